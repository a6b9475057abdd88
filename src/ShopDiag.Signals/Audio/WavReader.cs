using System.Buffers.Binary;
using ShopDiag.Diagnosis;

namespace ShopDiag.Signals.Audio;

/// <summary>
/// Reads the samples of a WAV file as they come, mixed to one channel, -1 to 1. Holds a few kilobytes however long the file is or says it is; reads forward only.
/// The stream stays the caller's.
/// </summary>
public sealed class WavReader
{
    /// <summary>Floating-point samples may exceed full scale (a recorder's gain), but not so far that sums lose their precision.</summary>
    private const float Loudest = 8;

    private readonly Stream _stream;
    private readonly byte[] _bytes = new byte[16384];
    private long _left;

    private WavReader(Stream stream, WavHeader header) =>
        (_stream, Format, DeclaredBytes, _left) = (stream, header.Format, header.DataBytes, header.DataBytes ?? long.MaxValue);

    /// <summary>How the samples are written.</summary>
    public WavFormat Format { get; }

    /// <summary>Bytes of samples that the file says it has; null when it does not say.</summary>
    public long? DeclaredBytes { get; }

    /// <summary>True once the end was met before the place that the file named: a recording that was cut short.</summary>
    public bool CutShort { get; private set; }

    /// <summary>Reads up to the first sample; an error says what is wrong with the file.</summary>
    public static Parsed<WavReader> Open(Stream stream)
    {
        ArgumentNullException.ThrowIfNull(stream);
        var header = WavHeader.Read(stream);
        return header.Error is { } error ? error : new WavReader(stream, header.Value);
    }

    /// <summary>Fills in the next samples and says how many; 0 at the end. Not-a-number counts as silence; an incomplete last frame is left out.</summary>
    public int Read(Span<float> mono)
    {
        var frame = Format.FrameBytes;
        var wanted = (int)Math.Min(Math.Min((long)mono.Length, _bytes.Length / frame) * frame, _left);
        var got = _stream.ReadAtLeast(_bytes.AsSpan(0, wanted), wanted, throwOnEndOfStream: false);
        CutShort |= got < wanted && DeclaredBytes is not null;
        _left = got < wanted ? 0 : _left - got;
        var frames = got / frame;
        for (var i = 0; i < frames; i++)
        {
            var at = _bytes.AsSpan(i * frame, frame);
            mono[i] = Format.Channels == 1 ? Sample(at) : 0.5f * (Sample(at) + Sample(at[(frame / 2)..]));
        }

        return frames;
    }

    private float Sample(ReadOnlySpan<byte> at) => (Format.Bits, Format.Floating) switch
    {
        (8, false) => (at[0] - 128) / 128f,
        (16, false) => BinaryPrimitives.ReadInt16LittleEndian(at) / 32768f,
        (24, false) => ((at[0] << 8) | (at[1] << 16) | (at[2] << 24)) / 2147483648f,
        (32, false) => BinaryPrimitives.ReadInt32LittleEndian(at) / 2147483648f,
        (32, true) => Sane(BinaryPrimitives.ReadSingleLittleEndian(at)),
        (64, true) => Sane((float)BinaryPrimitives.ReadDoubleLittleEndian(at)),
        _ => throw new InvalidOperationException($"Samples of {Format.Bits} bits passed the check."),
    };

    private static float Sane(float value) => float.IsNaN(value) ? 0 : Math.Clamp(value, -Loudest, Loudest);
}
