using ShopDiag.Signals.Audio;
using ShopDiag.Signals.Measured.Engines;

namespace ShopDiag.Signals.Tests.Audio;

public sealed class WavWriterTests
{
    private static readonly float[] Samples = [.. Enumerable.Range(0, 16000).Select(i => (float)(0.5 * Math.Sin(i * 0.07)))];

    private static byte[] Pcm => WavFile.Of(Samples, 16000)[WavWriter.HeaderBytes..];

    [Fact]
    public void What_was_written_in_pieces_reads_as_it_was()
    {
        using var stream = new MemoryStream();
        var writer = new WavWriter(stream, 16000);
        foreach (var piece in Pcm.Chunk(3200))
        {
            writer.Append(piece);
        }

        writer.Finish();

        Assert.Equal(1, writer.Seconds);
        Assert.Equal(WavFile.Of(Samples, 16000), stream.ToArray());
        Assert.Equal(stream.Length, stream.Position);
        var (read, cut) = Read(stream);
        Assert.Equal((16000, false), (read.Length, cut));
        Assert.All(read.Zip(Samples), p => Assert.Equal(p.Second, p.First, 1e-4));
    }

    [Fact]
    public void What_a_killed_program_leaves_behind_reads_to_its_end()
    {
        using var stream = new MemoryStream();
        var writer = new WavWriter(stream, 16000);
        writer.Append(Pcm.AsSpan(0, 20000));

        Assert.Equal(10000, Read(stream).Samples.Length);
    }

    [Fact]
    public void Half_a_sample_and_a_rate_that_nobody_reads_are_refused()
    {
        using var stream = new MemoryStream();
        Assert.Throws<ArgumentOutOfRangeException>(() => new WavWriter(stream, 4000));
        Assert.Throws<ArgumentOutOfRangeException>(() => new WavWriter(stream, 16000).Append([1, 2, 3]));
    }

    private static (float[] Samples, bool CutShort) Read(MemoryStream stream)
    {
        stream.Position = 0;
        var reader = WavReader.Open(stream).Value;
        var all = new List<float>();
        var block = new float[1000];
        while (reader.Read(block) is > 0 and var count)
        {
            all.AddRange(block[..count]);
        }

        return ([.. all], reader.CutShort);
    }
}
