using ShopDiag.Diagnosis;
using ShopDiag.Signals.Speed;
using ShopDiag.Signals.SpeedLogs;

namespace ShopDiag.Signals;

/// <summary>A recording of an engine's speed, whatever it is: sound as WAV or a log as text. Told apart by its first bytes, never by its name.</summary>
public static class Recording
{
    private static readonly (byte[] Start, string Name)[] Compressed =
    [
        ("ID3"u8.ToArray(), "MP3"), ([0xFF, 0xFB], "MP3"), ("OggS"u8.ToArray(), "Ogg"), ("fLaC"u8.ToArray(), "FLAC"), ([0x1A, 0x45, 0xDF, 0xA3], "WebM"),
    ];

    /// <summary>Reads a recording from a stream that can be wound back. The error says what is wrong, or what is to be chosen.</summary>
    public static Parsed<SpeedTrace> Read(Stream stream, EngineToHear engine, SpeedLogOptions options)
    {
        ArgumentNullException.ThrowIfNull(stream);
        Span<byte> buffer = stackalloc byte[12];
        var start = stream.Position;
        var head = buffer[..stream.ReadAtLeast(buffer, buffer.Length, throwOnEndOfStream: false)];
        stream.Position = start;
        if (head.StartsWith("RIFF"u8) || head.StartsWith("RF64"u8) || head.StartsWith("RIFX"u8))
        {
            return SoundSpeed.Read(stream, engine);
        }

        foreach (var (first, name) in Compressed)
        {
            if (head.StartsWith(first))
            {
                return new InputError("", $"This is compressed sound ({name}). Save it as WAV, or open it in the program's own page, which decodes it.");
            }
        }

        if (head.Length >= 8 && head[4..8].SequenceEqual("ftyp"u8))
        {
            return new InputError("", "This is compressed sound (MPEG-4). Save it as WAV, or open it in the program's own page, which decodes it.");
        }

        return head.Contains((byte)0) && !IsWideText(head)
            ? new InputError("", "This is neither a WAV file nor a log with columns of text.")
            : SpeedLog.Read(stream, options);
    }

    private static bool IsWideText(ReadOnlySpan<byte> head) => head.StartsWith((ReadOnlySpan<byte>)[0xFF, 0xFE]) || head.StartsWith((ReadOnlySpan<byte>)[0xFE, 0xFF]);
}
