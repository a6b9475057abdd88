using CsCheck;
using ShopDiag.Signals.Audio;
using ShopDiag.Signals.Measured.Engines;
using ShopDiag.Signals.Speed;

namespace ShopDiag.Signals.Tests.Audio;

public sealed class MalformedWavTests
{
    private static readonly EngineToHear Four = EngineToHear.Create(4, 750).Value;

    public static TheoryData<string, byte[], string> Files { get; } = new()
    {
        // what                         the file                                                                            where the error is
        { "empty", [], "" },
        { "short", "RIFF"u8.ToArray(), "" },
        { "text", "time;rpm\n0;750\n0.1;751\n"u8.ToArray(), "" },
        { "other RIFF", [.. "RIFF"u8, 4, 0, 0, 0, .. "AVI "u8], "" },
        { "RF64", [.. "RF64"u8, 4, 0, 0, 0, .. "WAVE"u8], "" },
        { "no chunks", [.. "RIFF"u8, 4, 0, 0, 0, .. "WAVE"u8], "fmt" },
        { "samples first", [.. "RIFF"u8, 4, 0, 0, 0, .. "WAVEdata"u8, 4, 0, 0, 0, 1, 2, 3, 4], "fmt" },
        { "format too small", WavFile.Of(new byte[8], [], 0), "fmt" },
        { "format too large", WavFile.Of(new byte[5000], [], 0), "fmt" },
        { "format of 4 GB", [.. "RIFF"u8, 4, 0, 0, 0, .. "WAVEfmt "u8, 255, 255, 255, 255, 1, 0], "fmt" },
        { "chunk of 4 GB", [.. "RIFF"u8, 4, 0, 0, 0, .. "WAVEjunk"u8, 254, 255, 255, 255, 1, 0], "data" },
        { "compressed", WavFile.Of([85, 0, .. WavFile.Format(8000, 1, 16)[2..]], new byte[8], 8), "fmt.format" },
        { "12 bits", WavFile.Of(WavFile.Format(8000, 1, 12), new byte[8], 8), "fmt.bits" },
        { "16 bits floating", WavFile.Of(WavFile.Format(8000, 1, 16, floating: true), new byte[8], 8), "fmt.bits" },
        { "no channel", WavFile.Of(WavFile.Format(8000, 0, 16), new byte[8], 8), "fmt.channels" },
        { "six channels", WavFile.Of(WavFile.Format(8000, 6, 16), new byte[24], 24), "fmt.channels" },
        { "rate 0", WavFile.Of(WavFile.Format(0, 1, 16), new byte[8], 8), "fmt.rate" },
        { "rate 192000", WavFile.Of(WavFile.Format(192000, 1, 16), new byte[8], 8), "fmt.rate" },
        { "wrong alignment", WavFile.Of([.. WavFile.Format(8000, 1, 16)[..12], 7, 0, 16, 0], new byte[8], 8), "fmt.align" },
        { "no samples", WavFile.Of(WavFile.Format(8000, 1, 16), [], 0), "data" },
        { "a moment", WavFile.Of(new float[800], 8000), "data" },
    };

    [Theory]
    [MemberData(nameof(Files))]
    public void Is_answered_by_an_error_that_says_where(string what, byte[] file, string at)
    {
        var error = SoundSpeed.Read(new MemoryStream(file), Four).Error;

        Assert.NotNull(error);
        Assert.Equal((what, at), (what, error.At));
        Assert.NotEmpty(error.Message);
    }

    [Fact]
    public void A_file_cut_at_any_byte_of_its_head_is_an_error_and_never_a_crash()
    {
        var file = WavFile.Of(new float[100], 8000, extensible: true);
        for (var length = 0; length < 68; length++)
        {
            Assert.NotNull(SoundSpeed.Read(new MemoryStream(file[..length]), Four).Error);
        }
    }

    [Fact]
    public void Any_bytes_changed_anywhere_are_read_or_refused_but_never_crash()
    {
        var good = WavFile.Of([.. Enumerable.Range(0, 3000).Select(i => (float)Math.Sin(i))], 8000, extensible: true);
        Gen.Select(Gen.Int[0, 80], Gen.Byte, Gen.Int[0, 80], Gen.Byte, Gen.Int[0, 6100]).Sample(
            (at1, value1, at2, value2, length) =>
            {
                var file = good[..Math.Min(length, good.Length)];
                foreach (var (at, value) in new[] { (at1, value1), (at2, value2) })
                {
                    if (at < file.Length)
                    {
                        file[at] = value;
                    }
                }

                var opened = WavReader.Open(new MemoryStream(file));
                var block = new float[512];
                var frames = 0;
                while (opened.IsValid && opened.Value.Read(block) is > 0 and var count)
                {
                    frames += count;
                    Assert.All(block.Take(count), s => Assert.InRange(s, -8, 8));
                }

                Assert.InRange(frames, 0, file.Length);
            },
            iter: 3000);
    }

    [Fact]
    public void A_recording_that_ends_before_the_place_it_names_is_used_and_said()
    {
        var run = new float[8000 * 5];
        var file = WavFile.Of(run, 8000);

        var trace = SoundSpeed.Read(new MemoryStream(file[..^20000]), Four).Value;

        Assert.Contains("cut short", Assert.Single(trace.Remarks), StringComparison.Ordinal);
    }

    [Fact]
    public void An_endless_recording_is_refused_without_holding_it()
    {
        using var endless = new Endless(WavFile.Of(WavFile.Format(96000, 2, 16), [], uint.MaxValue));
        var before = GC.GetAllocatedBytesForCurrentThread();

        var error = SoundSpeed.Read(endless, Four).Error;

        Assert.Contains("longer than", error!.Message, StringComparison.Ordinal);
        Assert.InRange(GC.GetAllocatedBytesForCurrentThread() - before, 0, 200L << 20);
    }

    /// <summary>A head, then zeros without end.</summary>
    private sealed class Endless(byte[] head) : MemoryStream(head)
    {
        public override int Read(Span<byte> buffer)
        {
            var got = base.Read(buffer);
            if (got == 0)
            {
                buffer.Clear();
            }

            return got == 0 ? buffer.Length : got;
        }
    }
}
