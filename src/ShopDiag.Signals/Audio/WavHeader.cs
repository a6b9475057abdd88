using System.Buffers.Binary;
using ShopDiag.Diagnosis;

namespace ShopDiag.Signals.Audio;

/// <summary>
/// The head of a RIFF/WAVE file up to the first sample (Microsoft and IBM, Multimedia Programming Interface and Data Specifications 1.0, 1991; WAVEFORMATEXTENSIBLE as later added).
/// Nothing in it is believed: sizes are bounds for reading, not for allocating.
/// </summary>
internal sealed record WavHeader(WavFormat Format, long? DataBytes)
{
    /// <summary>Other chunks may stand before the samples, but not more than this many bytes of them.</summary>
    private const long MostBytesBeforeData = 16 << 20;

    private const int LeastFormatBytes = 16;
    private const int MostFormatBytes = 1024;
    private const int Pcm = 1;
    private const int Float = 3;
    private const int Extensible = 0xFFFE;

    /// <summary>Where the first two bytes of the extensible form's sub-format stand; they are the plain format tag.</summary>
    private const int SubFormat = 24;

    /// <summary>Reads up to the first sample.</summary>
    public static Parsed<WavHeader> Read(Stream stream)
    {
        Span<byte> head = stackalloc byte[12];
        var got = stream.ReadAtLeast(head, head.Length, throwOnEndOfStream: false);
        if (got < head.Length)
        {
            return new InputError("", got == 0 ? "The file is empty." : "The file ends within the first 12 bytes: it is no WAV file.");
        }

        if (!head[..4].SequenceEqual("RIFF"u8) || !head[8..].SequenceEqual("WAVE"u8))
        {
            return new InputError("", head[..4].SequenceEqual("RF64"u8) || head[..4].SequenceEqual("RIFX"u8)
                ? "This is a rare kind of WAV file (RF64 or RIFX). Save it as an ordinary PCM WAV file."
                : "The file does not begin as a WAV file does (RIFF ... WAVE). Convert the recording to PCM WAV.");
        }

        return ReadChunks(stream);
    }

    private static Parsed<WavHeader> ReadChunks(Stream stream)
    {
        WavFormat? format = null;
        Span<byte> head = stackalloc byte[8];
        for (long passed = 0; passed <= MostBytesBeforeData;)
        {
            if (stream.ReadAtLeast(head, head.Length, throwOnEndOfStream: false) < head.Length)
            {
                return new InputError(format is null ? "fmt" : "data", $"The file ends before its {(format is null ? "format" : "samples")}.");
            }

            long size = BinaryPrimitives.ReadUInt32LittleEndian(head[4..]);
            if (head[..4].SequenceEqual("data"u8))
            {
                // Recorders that could not go back to fill in the size leave 0 or all ones: then the samples go on to the end of the file.
                return format is null
                    ? new InputError("fmt", "The samples come before their format.")
                    : new WavHeader(format, size is 0 or uint.MaxValue ? null : size);
            }

            if (head[..4].SequenceEqual("fmt "u8))
            {
                var read = ReadFormat(stream, size);
                if (read.Error is { } error)
                {
                    return error;
                }

                format = read.Value;
            }
            else if (size > MostBytesBeforeData || !Skip(stream, size))
            {
                return new InputError("data", "The file ends, or goes on for too long, before its samples.");
            }

            // Chunks begin at even places.
            if (size % 2 == 1)
            {
                stream.ReadByte();
            }

            passed += size + head.Length;
        }

        return new InputError("data", "No samples within the first 16 MB of the file.");
    }

    private static Parsed<WavFormat> ReadFormat(Stream stream, long size)
    {
        if (size is < LeastFormatBytes or > MostFormatBytes)
        {
            return new InputError("fmt", $"The format takes {size} bytes; {LeastFormatBytes} to {MostFormatBytes} make sense.");
        }

        var bytes = new byte[size];
        if (stream.ReadAtLeast(bytes, bytes.Length, throwOnEndOfStream: false) < bytes.Length)
        {
            return new InputError("fmt", "The file ends within its format.");
        }

        int Word(int at) => BinaryPrimitives.ReadUInt16LittleEndian(bytes.AsSpan(at));
        var tag = Word(0);
        if (tag == Extensible)
        {
            if (bytes.Length < SubFormat + 16)
            {
                return new InputError("fmt", "The extensible format is cut short.");
            }

            tag = Word(SubFormat);
        }

        return Check(tag, Word(2), BinaryPrimitives.ReadUInt32LittleEndian(bytes.AsSpan(4)), Word(12), Word(14));
    }

    private static Parsed<WavFormat> Check(int tag, int channels, uint rate, int frameBytes, int bits)
    {
        if (tag is not (Pcm or Float))
        {
            return new InputError("fmt.format", $"The samples are compressed (format {tag}). Save the recording as uncompressed PCM WAV.");
        }

        if (tag == Pcm ? bits is not (8 or 16 or 24 or 32) : bits is not (32 or 64))
        {
            return new InputError("fmt.bits", $"{bits} bits a sample cannot be read: 8, 16, 24 or 32 for whole numbers, 32 or 64 for floating point.");
        }

        if (channels is not (1 or 2))
        {
            return new InputError("fmt.channels", $"{channels} channels: one (mono) or two (stereo) can be read.");
        }

        if (rate is < WavFormat.LowestRate or > WavFormat.HighestRate)
        {
            return new InputError("fmt.rate", $"{rate} samples a second: {WavFormat.LowestRate} to {WavFormat.HighestRate} can be read.");
        }

        var format = new WavFormat((int)rate, channels, bits, tag == Float);
        return format.FrameBytes == frameBytes
            ? format
            : new InputError("fmt.align", $"{channels} channels of {bits} bits take {format.FrameBytes} bytes, but the file says {frameBytes}.");
    }

    private static bool Skip(Stream stream, long count)
    {
        Span<byte> waste = stackalloc byte[4096];
        while (count > 0)
        {
            var got = stream.Read(waste[..(int)Math.Min(waste.Length, count)]);
            if (got == 0)
            {
                return false;
            }

            count -= got;
        }

        return true;
    }
}
