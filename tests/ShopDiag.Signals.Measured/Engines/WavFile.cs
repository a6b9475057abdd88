using System.Buffers.Binary;
using System.Text;

namespace ShopDiag.Signals.Measured.Engines;

/// <summary>Writes WAV files.</summary>
internal static class WavFile
{
    /// <summary>A file of samples from -1 to 1, the same on each channel.</summary>
    public static byte[] Of(ReadOnlySpan<float> samples, int rate, int channels = 1, int bits = 16, bool floating = false, bool extensible = false)
    {
        var data = new List<byte>(samples.Length * channels * bits / 8);
        Span<byte> one = stackalloc byte[8];
        foreach (var sample in samples)
        {
            var bytes = Sample(one, sample, bits, floating);
            for (var c = 0; c < channels; c++)
            {
                data.AddRange(bytes);
            }
        }

        return Of(Format(rate, channels, bits, floating, extensible), [.. data], (uint)data.Count);
    }

    /// <summary>A file from its parts, with any size said for the samples.</summary>
    public static byte[] Of(byte[] format, byte[] data, uint saidBytes)
    {
        using var file = new MemoryStream();
        using var writer = new BinaryWriter(file, Encoding.ASCII);
        writer.Write("RIFF"u8);
        writer.Write((uint)(20 + format.Length + data.Length));
        writer.Write("WAVEfmt "u8);
        writer.Write((uint)format.Length);
        writer.Write(format);
        writer.Write("data"u8);
        writer.Write(saidBytes);
        writer.Write(data);
        return file.ToArray();
    }

    /// <summary>The body of the format chunk.</summary>
    public static byte[] Format(int rate, int channels, int bits, bool floating = false, bool extensible = false)
    {
        var format = new byte[extensible ? 40 : 16];
        var tag = (ushort)(floating ? 3 : 1);
        BinaryPrimitives.WriteUInt16LittleEndian(format, extensible ? (ushort)0xFFFE : tag);
        BinaryPrimitives.WriteUInt16LittleEndian(format.AsSpan(2), (ushort)channels);
        BinaryPrimitives.WriteUInt32LittleEndian(format.AsSpan(4), (uint)rate);
        BinaryPrimitives.WriteUInt32LittleEndian(format.AsSpan(8), (uint)(rate * channels * bits / 8));
        BinaryPrimitives.WriteUInt16LittleEndian(format.AsSpan(12), (ushort)(channels * bits / 8));
        BinaryPrimitives.WriteUInt16LittleEndian(format.AsSpan(14), (ushort)bits);
        if (extensible)
        {
            BinaryPrimitives.WriteUInt16LittleEndian(format.AsSpan(16), 22);
            BinaryPrimitives.WriteUInt16LittleEndian(format.AsSpan(18), (ushort)bits);
            BinaryPrimitives.WriteUInt16LittleEndian(format.AsSpan(24), tag);
        }

        return format;
    }

    private static ReadOnlySpan<byte> Sample(Span<byte> one, double sample, int bits, bool floating)
    {
        switch (bits, floating)
        {
            case (8, false):
                one[0] = (byte)Math.Clamp(Math.Round(sample * 128) + 128, 0, 255);
                return one[..1];
            case (32, true):
                BinaryPrimitives.WriteSingleLittleEndian(one, (float)sample);
                return one[..4];
            case (64, true):
                BinaryPrimitives.WriteDoubleLittleEndian(one, sample);
                return one[..8];
            default:
                var full = Math.Pow(2, bits - 1);
                BinaryPrimitives.WriteInt64LittleEndian(one, (long)Math.Clamp(Math.Round(sample * full), -full, full - 1));
                return one[..(bits / 8)];
        }
    }
}
