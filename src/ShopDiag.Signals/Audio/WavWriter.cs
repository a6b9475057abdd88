using System.Buffers.Binary;

namespace ShopDiag.Signals.Audio;

/// <summary>
/// Writes sound as a WAV file of one channel and 16 bits, as it comes. Until <see cref="Finish"/> the header says that the length is not known, so that what a killed program
/// leaves behind can still be read to its end. The stream stays the caller's; it must be one that can be wound back.
/// </summary>
public sealed class WavWriter
{
    /// <summary>Bytes before the first sample.</summary>
    public const int HeaderBytes = 44;

    private const uint NotKnown = uint.MaxValue;
    private readonly Stream _stream;
    private readonly int _rate;
    private long _samples;

    /// <summary>Writes the header. The rate is one that <see cref="WavReader"/> reads.</summary>
    public WavWriter(Stream stream, int sampleRate)
    {
        ArgumentNullException.ThrowIfNull(stream);
        ArgumentOutOfRangeException.ThrowIfLessThan(sampleRate, WavFormat.LowestRate);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(sampleRate, WavFormat.HighestRate);
        (_stream, _rate) = (stream, sampleRate);
        WriteHeader(NotKnown, NotKnown);
    }

    /// <summary>Seconds written so far.</summary>
    public double Seconds => (double)_samples / _rate;

    /// <summary>Appends samples: 16 bits, little-endian. An odd byte at the end throws.</summary>
    public void Append(ReadOnlySpan<byte> pcm)
    {
        ArgumentOutOfRangeException.ThrowIfNotEqual(pcm.Length % 2, 0, nameof(pcm));
        _stream.Write(pcm);
        _samples += pcm.Length / 2;
    }

    /// <summary>Puts the true length into the header and leaves the stream at its end.</summary>
    public void Finish()
    {
        var bytes = (uint)(2 * _samples);
        _stream.Position -= HeaderBytes + bytes;
        WriteHeader(bytes + HeaderBytes - 8, bytes);
        _stream.Position += bytes;
    }

    private void WriteHeader(uint riffBytes, uint dataBytes)
    {
        Span<byte> header = stackalloc byte[HeaderBytes];
        "RIFF"u8.CopyTo(header);
        BinaryPrimitives.WriteUInt32LittleEndian(header[4..], riffBytes);
        "WAVEfmt "u8.CopyTo(header[8..]);
        BinaryPrimitives.WriteUInt32LittleEndian(header[16..], 16);
        BinaryPrimitives.WriteUInt16LittleEndian(header[20..], 1);
        BinaryPrimitives.WriteUInt16LittleEndian(header[22..], 1);
        BinaryPrimitives.WriteUInt32LittleEndian(header[24..], (uint)_rate);
        BinaryPrimitives.WriteUInt32LittleEndian(header[28..], (uint)(2 * _rate));
        BinaryPrimitives.WriteUInt16LittleEndian(header[32..], 2);
        BinaryPrimitives.WriteUInt16LittleEndian(header[34..], 16);
        "data"u8.CopyTo(header[36..]);
        BinaryPrimitives.WriteUInt32LittleEndian(header[40..], dataBytes);
        _stream.Write(header);
    }
}
