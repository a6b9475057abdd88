using System.Diagnostics;
using System.Text;
using ShopDiag.Signals.Waveforms.Csv;

namespace ShopDiag.Signals.Tests.Waveforms;

/// <summary>Over ten million bytes of random and mutated files with fixed seeds: nothing throws, nothing hangs, memory stays bounded, and what gives nothing gives a reason.</summary>
public sealed class WaveformCsvFuzzTests
{
    private const int Bytes = 10_000_000;

    /// <summary>Far above what it takes, so that only a hang fails it.</summary>
    private static readonly TimeSpan Bounded = TimeSpan.FromMinutes(2);

    private static readonly string[] Good =
    [
        "Time,Channel A\n(ms),(mV)\n\n" + Rows("{0:0.000},{1:0.0000}\n"),
        "Record Length,20,,0,1,\nSample Interval,0.0005,,0.0005,2\n" + Rows(",,,{0:0.0000},{1:E3},\n"),
        "Zeit;Strom\r\n" + Rows("{0:0.000};{1:0.00}\r\n").Replace('.', ','),
        "Sample Rate: 48 kHz\n" + Rows("{1:0.000}\n"),
        "tooth,time\n" + Rows("{2},{0:0.000000}\n"),
        "\"Time\",\"Clamp (A)\"\n" + Rows("\"10:00:0{0:0.000}\",\"{1}\"\n"),
    ];

    private static readonly string[] Bits = [",", ";", "\t", "\n", "\r", "\r\n", "\"", ".", "-", "E", "e+", "9999999999999999999999", "1e400", "\0", "Sample Rate", ":", "NaN", "∞", "\ufeff", "Time (s)", "0", "(", "=", "  "];

    [Fact(DisableParallelization = true)]
    public void Files_random_and_mutated_are_read_or_say_why()
    {
        var random = new Random(71);
        var clock = Stopwatch.StartNew();
        var before = GC.GetTotalMemory(true);
        var (total, read, refused) = (0L, 0, 0);
        for (var i = 0; total < Bytes; i++)
        {
            var bytes = (i % 4) switch
            {
                0 => Noise(random),
                1 => Letters(random),
                _ => Mutated(random, Encoding.UTF8.GetBytes(Good[random.Next(Good.Length)])),
            };
            total += bytes.Length;
            var file = WaveformCsv.Read(new Trickle(bytes, random.Next(1, 5000)), new() { SampleRate = i % 7 == 0 ? 1000 : null, TimeUnit = i % 11 == 0 ? 1e-3 : null });

            if (file.IsValid)
            {
                read++;
                Assert.True(file.Value.Rows >= WaveformCsv.FewestRows);
                Assert.True(file.Value.Waveform is { Length: > 0, SampleRate: > 0 } w ? double.IsFinite(w.SampleRate) && w.Channels.All(c => c.Samples.Length == w.Length) : file.Value.EventSeconds.Length > 0);
            }
            else
            {
                refused++;
                Assert.True(file.Error!.Message.Length > 10);
            }

            Assert.True(i % 100 != 0 || clock.Elapsed < Bounded, $"file {i} after {clock.Elapsed}");
        }

        // Both ways are gone often, or the test would show nothing.
        Assert.InRange(read, 500, int.MaxValue);
        Assert.InRange(refused, 500, int.MaxValue);
        Assert.True(GC.GetTotalMemory(true) - before < 50 << 20);
    }

    private static string Rows(string form) => string.Concat(Enumerable.Range(0, 40).Select(i => string.Format(System.Globalization.CultureInfo.InvariantCulture, form, i * 0.001, Math.Sin(i), i)));

    private static byte[] Noise(Random random)
    {
        var bytes = new byte[random.Next(2000)];
        random.NextBytes(bytes);
        return bytes;
    }

    private static byte[] Letters(Random random)
    {
        const string Alphabet = "0123456789.,;\t\n-+eE\"() :VAms";
        return [.. Enumerable.Range(0, random.Next(3000)).Select(_ => (byte)Alphabet[random.Next(Alphabet.Length)])];
    }

    private static byte[] Mutated(Random random, byte[] bytes)
    {
        var list = bytes.ToList();
        for (var n = random.Next(1, 6); n > 0; n--)
        {
            var at = random.Next(list.Count + 1);
            switch (random.Next(5))
            {
                case 0 when at < list.Count:
                    list[at] = (byte)random.Next(256);
                    break;
                case 1:
                    list.InsertRange(at, Encoding.UTF8.GetBytes(Bits[random.Next(Bits.Length)]));
                    break;
                case 2 when list.Count > 0:
                    list.RemoveRange(Math.Min(at, list.Count - 1), Math.Min(random.Next(1, 20), list.Count - Math.Min(at, list.Count - 1)));
                    break;
                case 3 when random.Next(4) == 0:
                    list.RemoveRange(at, list.Count - at);
                    break;
                default:
                    list.InsertRange(at, list.Skip(random.Next(list.Count + 1)).Take(random.Next(60)).ToArray());
                    break;
            }
        }

        return [.. list];
    }

    /// <summary>Gives a few bytes at a time, as a network does.</summary>
    private sealed class Trickle(byte[] bytes, int most) : MemoryStream(bytes)
    {
        public override int Read(byte[] buffer, int offset, int count) => base.Read(buffer, offset, Math.Min(count, most));

        public override int Read(Span<byte> buffer) => base.Read(buffer[..Math.Min(buffer.Length, most)]);
    }
}
