using ShopDiag.Signals.Audio;
using ShopDiag.Signals.Measured.Engines;

namespace ShopDiag.Signals.Tests.Audio;

public sealed class WavReaderTests
{
    private static readonly float[] Samples = [0, 0.5f, -0.5f, 0.25f, -1, 0.99f];

    [Theory]
    //          bits float  rounding
    [InlineData(8, false, 1.0 / 128)]
    [InlineData(16, false, 1.0 / 32768)]
    [InlineData(24, false, 1e-6)]
    [InlineData(32, false, 1e-6)]
    [InlineData(32, true, 1e-7)]
    [InlineData(64, true, 1e-7)]
    public void What_was_written_is_read(int bits, bool floating, double rounding)
    {
        foreach (var channels in new[] { 1, 2 })
        {
            foreach (var extensible in new[] { false, true })
            {
                var reader = WavReader.Open(new MemoryStream(WavFile.Of(Samples, 44100, channels, bits, floating, extensible))).Value;

                Assert.Equal(new WavFormat(44100, channels, bits, floating), reader.Format);
                var read = new float[10];
                Assert.Equal(Samples.Length, reader.Read(read));
                Assert.All(Samples.Zip(read), pair => Assert.Equal(pair.First, pair.Second, rounding));
                Assert.Equal(0, reader.Read(read));
                Assert.False(reader.CutShort);
            }
        }
    }

    [Fact]
    public void Two_channels_are_mixed_to_their_mean()
    {
        byte[] data = [0x00, 0x40, 0x00, 0xC0, 0x00, 0x40, 0x00, 0x20];
        var reader = WavReader.Open(new MemoryStream(WavFile.Of(WavFile.Format(8000, 2, 16), data, 8))).Value;
        var read = new float[2];

        reader.Read(read);

        Assert.Equal([0f, 0.375f], read);
    }

    [Fact]
    public void Chunks_before_and_after_the_samples_and_their_padding_are_passed_over()
    {
        var plain = WavFile.Of(Samples, 8000);
        byte[] odd = [.. plain[..12], .. "LIST"u8, 3, 0, 0, 0, 1, 2, 3, 0, .. plain[12..], .. "LIST"u8, 4, 0, 0, 0, 9, 9, 9, 9];
        var reader = WavReader.Open(new MemoryStream(odd)).Value;

        Assert.Equal(Samples.Length, reader.Read(new float[100]));
    }

    [Theory]
    [InlineData(0u)]
    [InlineData(uint.MaxValue)]
    public void A_recorder_that_did_not_fill_in_the_size_is_read_to_the_end(uint said)
    {
        var reader = WavReader.Open(new MemoryStream(WavFile.Of(WavFile.Format(8000, 1, 16), new byte[20], said))).Value;

        Assert.Equal(10, reader.Read(new float[100]));
        Assert.False(reader.CutShort);
    }

    [Fact]
    public void Floating_point_that_is_no_number_is_silence_and_far_too_loud_is_held()
    {
        var reader = WavReader.Open(new MemoryStream(WavFile.Of([float.NaN, float.PositiveInfinity, -1e30f], 8000, bits: 32, floating: true))).Value;
        var read = new float[3];

        reader.Read(read);

        Assert.Equal([0f, 8f, -8f], read);
    }

    [Fact]
    public void Blocks_of_any_size_give_the_same_samples()
    {
        float[] many = [.. Enumerable.Range(0, 50000).Select(i => (float)Math.Sin(i * 0.01))];
        var file = WavFile.Of(many, 22050, channels: 2);
        foreach (var size in new[] { 1, 7, 4096, 60000 })
        {
            var reader = WavReader.Open(new MemoryStream(file)).Value;
            var all = new List<float>();
            var block = new float[size];
            while (reader.Read(block) is > 0 and var count)
            {
                all.AddRange(block.AsSpan(0, count));
            }

            Assert.Equal(many.Length, all.Count);
            Assert.Equal(many[^1], all[^1], 1e-4);
        }
    }
}
