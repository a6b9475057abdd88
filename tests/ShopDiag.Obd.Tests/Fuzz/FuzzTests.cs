using System.Diagnostics;
using System.Text;
using ShopDiag.Obd.Findings;
using ShopDiag.Obd.Frames;
using ShopDiag.Obd.Logs;
using ShopDiag.Obd.Messages;
using ShopDiag.Obd.Transport;
using ShopDiag.Obd.Wire;

namespace ShopDiag.Obd.Tests.Fuzz;

/// <summary>A million random and mutated inputs with fixed seeds: nothing throws, nothing hangs, memory stays bounded, and what gives nothing gives a reason.</summary>
public sealed class FuzzTests
{
    private const int Messages = 500_000;
    private const int Frames = 300_000;
    private const int Lines = 200_000;
    private const int Logs = 4_000;

    /// <summary>Far above what it takes, so that only a hang fails it.</summary>
    private static readonly TimeSpan Bounded = TimeSpan.FromMinutes(1);

    private static readonly string[] Good =
    [
        "41 0C 1A F8", "41 0C 0B B8 06 8F 07 85 05 7B 14 5A FF", "41 00 BE 1F A8 13", "41 01 82 07 65 04", "43 06 01 43 01 96 02 34 02 CD 03 57 0A 24", "44", "7F 01 12",
        "46 A2 0B 24 00 2D 00 00 FF FF A2 0C 24 00 07 00 00 FF FF", "46 00 C0 00 00 01", "49 02 01 31 47 31 4A 43 35 34 34 34 52 37 32 35 32 33 36 37",
        "49 04 01 41 42 43 31 32 33 34 00 00 00 00 00 00 00 00 00", "49 0A 01 45 43 4D 00", "42 02 00 03 01", "42 0C 00 0B B8", "47 00", "4A 01 03 01", "01 0C", "02 0C 00", "09 02",
    ];

    private static readonly string[] GoodLines =
    [
        "(1436509052.249713) can0 7E8#04410C1AF8000000", "  can0  7E8   [8]  04 41 0C 1A F8 00 00 00   '.A......'", " (2024-05-04 10:11:12.123456)  can0  18DAF110  [5]  04 41 0C 1A F8",
        "  can0  RX - -  7E8   [8]  04 41 0C 1A F8 00 00 00", "7E8 10 14 49 02 01 31 47 31", "18 DA F1 10 04 41 0C 1A F8", "410C1AF8 # idle", "can0 7E8##1044100", "43 01 33 00 00 00 00",
    ];

    // Alone, because it looks at the memory in use.
    [Fact(DisableParallelization = true)]
    public void Messages_random_and_mutated_are_decoded_or_say_why()
    {
        var random = new Random(61);
        var clock = Stopwatch.StartNew();
        var before = GC.GetTotalMemory(true);
        for (var i = 0; i < Messages; i++)
        {
            var bytes = i % 2 == 0 ? Random(random, 40) : Mutated(random, Decoded.Bytes(Good[random.Next(Good.Length)]));
            var record = MessageDecoder.Decode(new ObdMessage([.. bytes]) { Id = random.Next(3) == 0 ? null : random.Next(2) == 0 ? Decoded.Engine : CanId.AskAll });

            Assert.True(SaysSomething(record), $"{Convert.ToHexString(bytes)} gave {record.GetType().Name} without a word");
            Assert.NotEmpty(i % 50 == 0 ? ObdJson.Write(record) : "not each time");
            Assert.True(i % 10_000 != 0 || clock.Elapsed < Bounded, $"message {i} after {clock.Elapsed}");
        }

        Assert.True(GC.GetTotalMemory(true) - before < 50 << 20);
    }

    [Fact]
    public void Frames_random_and_mutated_never_break_the_reassembler_and_open_messages_stay_few()
    {
        var random = new Random(62);
        var clock = Stopwatch.StartNew();
        var reassembler = new Reassembler();
        CanId[] ids = [CanId.AskAll, new(0x7E0, false), Decoded.Engine, new(0x7E9, false), new(0x18DAF110, true), new(0x18DA10F1, true), new(0x123, false)];
        var frames = new List<CanFrame>();
        var seconds = 0.0;
        for (var i = 0; i < Frames; i++)
        {
            if (frames.Count == 0)
            {
                frames.AddRange(Segmenter.Cut(ids[random.Next(ids.Length)], Random(random, 60, 1)));
            }

            var frame = frames[0];
            frames.RemoveAt(0);
            seconds += random.NextDouble() * (random.Next(50) == 0 ? 2 : 0.01);
            frame = random.Next(4) switch
            {
                0 => frame with { Data = [.. Random(random, 8)] },
                1 => frame with { Data = [.. Mutated(random, [.. frame.Data])] },
                _ => frame,
            };
            var (message, problem) = reassembler.Add(frame with { Id = random.Next(10) == 0 ? ids[random.Next(ids.Length)] : frame.Id, Seconds = random.Next(5) == 0 ? null : seconds });

            Assert.True(message is null || message.Bytes.Length is > 0 and <= Reassembler.MostBytes);
            Assert.True(problem is null || problem.Length > 10);
            Assert.True(i % 10_000 != 0 || clock.Elapsed < Bounded, $"frame {i} after {clock.Elapsed}");
        }

        Assert.InRange(reassembler.Unfinished().Count(), 0, ids.Length);
    }

    [Fact]
    public void Lines_random_and_mutated_are_read_or_say_why()
    {
        var random = new Random(63);
        var clock = Stopwatch.StartNew();
        for (var i = 0; i < Lines; i++)
        {
            var text = i % 2 == 0 ? RandomText(random) : MutatedText(random, GoodLines[random.Next(GoodLines.Length)]);
            var line = LineReader.Read(text);

            Assert.True(line.Kind is not (LineKind.Unreadable or LineKind.PassedOver) || line.Reason is { Length: > 10 }, text);
            Assert.True(line.Kind is not (LineKind.Frame or LineKind.Message) || !line.Bytes.IsDefault, text);
            Assert.True(line.Kind != LineKind.Frame || line.Bytes.Length <= CanFrame.MostBytes, text);
            Assert.True(i % 10_000 != 0 || clock.Elapsed < Bounded, $"line {i} after {clock.Elapsed}");
        }
    }

    [Fact]
    public void Whole_logs_random_and_mutated_give_findings_or_say_why()
    {
        var random = new Random(64);
        var clock = Stopwatch.StartNew();
        for (var i = 0; i < Logs; i++)
        {
            var text = new StringBuilder();
            for (var n = random.Next(30); n >= 0; n--)
            {
                var message = Decoded.Bytes(Good[random.Next(Good.Length)]);
                var id = random.Next(2) == 0 ? Decoded.Engine : new CanId(0x7E9, false);
                foreach (var frame in Segmenter.Cut(id, random.Next(3) == 0 ? Mutated(random, message, 1) : message))
                {
                    var line = FormattableString.Invariant($"({n * random.NextDouble():0.000000}) can0 {frame.Id}#{Convert.ToHexString(frame.Data.AsSpan())}");
                    text.Append(random.Next(20) == 0 ? MutatedText(random, line) : line).Append(random.Next(50) == 0 ? "" : "\n");
                }
            }

            var log = ObdLog.Read(text.ToString());
            Assert.True(log.IsValid || log.Error!.Message.Length > 10);
            if (log.IsValid)
            {
                Assert.NotEmpty(ObdJson.Write(ObdFindings.From(log.Value), log.Value));
                Assert.True(!log.Value.Records.IsEmpty || !log.Value.Problems.IsEmpty, text.ToString());
            }

            Assert.True(i % 100 != 0 || clock.Elapsed < Bounded, $"log {i} after {clock.Elapsed}");
        }
    }

    /// <summary>A value, an item of a list, or a remark: never nothing at all.</summary>
    private static bool SaysSomething(ObdRecord record) => !record.Remarks.IsEmpty || record switch
    {
        RequestRecord or CodesRecord or ClearedRecord or RefusalRecord => true,
        ValuesRecord r => !r.Values.IsEmpty || !r.Monitors.IsEmpty || r.FreezeCode is not null || IsMask(record),
        FreezeFrameRecord r => !r.Values.IsEmpty || r.Code is not null || r.Empty || IsMask(record),
        TestsRecord r => !r.Tests.IsEmpty || IsMask(record),
        VehicleRecord r => r.Vin is not null || !r.CalibrationIds.IsEmpty || !r.VerificationNumbers.IsEmpty || r.UnitName is not null || !r.InUseCounts.IsEmpty || IsMask(record) || NoItems(record),
        _ => false,
    };

    /// <summary>A mask, of which none may be set; or values whose own bytes say that they are not there.</summary>
    private static bool IsMask(ObdRecord record) => record.Message.Bytes[1] % 0x20 == 0 || record.Message.Bytes[1] is 0x02 or 0x66 or 0x67;

    /// <summary>An answer that announces no items and holds none.</summary>
    private static bool NoItems(ObdRecord record) => record.Message.Bytes[2] == 0;

    private static byte[] Random(Random random, int most, int least = 0)
    {
        var bytes = new byte[random.Next(least, most + 1)];
        random.NextBytes(bytes);
        return bytes;
    }

    private static byte[] Mutated(Random random, byte[] bytes, int least = 0)
    {
        var list = bytes.ToList();
        for (var n = random.Next(1, 4); n > 0; n--)
        {
            var at = random.Next(list.Count + 1);
            switch (random.Next(4))
            {
                case 0 when at < list.Count:
                    list[at] ^= (byte)(1 << random.Next(8));
                    break;
                case 1 when list.Count > least:
                    list.RemoveRange(Math.Min(at, list.Count - 1), 1);
                    break;
                case 2:
                    list.Insert(at, (byte)random.Next(256));
                    break;
                default:
                    list.RemoveRange(Math.Max(at, least), list.Count - Math.Max(at, least));
                    break;
            }
        }

        return [.. list.Count < least ? [.. list, 0x41] : list];
    }

    private static string RandomText(Random random)
    {
        const string Letters = "0123456789ABCDEFabcdef #[]()'.;_RTXcan 7E8\t-:,é\u2028\0";
        return string.Create(random.Next(60), random, (span, r) =>
        {
            for (var i = 0; i < span.Length; i++)
            {
                span[i] = Letters[r.Next(Letters.Length)];
            }
        });
    }

    private static string MutatedText(Random random, string text)
    {
        var letters = new StringBuilder(text);
        for (var n = random.Next(1, 4); n > 0 && letters.Length > 0; n--)
        {
            var at = random.Next(letters.Length);
            switch (random.Next(3))
            {
                case 0:
                    letters[at] = (char)random.Next(32, 127);
                    break;
                case 1:
                    letters.Remove(at, 1);
                    break;
                default:
                    letters.Insert(at, (char)random.Next(32, 127));
                    break;
            }
        }

        return letters.ToString();
    }
}
