using System.Globalization;
using System.Text;
using ShopDiag.Diagnosis;

namespace ShopDiag.Signals.Waveforms.Csv;

/// <summary>
/// Reads the samples that any oscilloscope writes as text: lines of any kind above, units, quotes, comma, semicolon or tab, decimal comma, a column of times or a stated rate. The rows stream through a
/// small buffer; only the samples stay, four bytes each.
/// </summary>
public static class WaveformCsv
{
    /// <summary>Most rows of a file; more than the ten million that are promised, so that none of those is refused for a few.</summary>
    public const int MostRows = 20_000_000;

    /// <summary>Most samples of all channels together: 160 MB of memory.</summary>
    public const long MostSamples = 40_000_000;

    /// <summary>Fewest rows that can show anything.</summary>
    public const int FewestRows = 16;

    /// <summary>More lines than this are not looked at to find the layout.</summary>
    private const int MostHeadLines = 2000;

    /// <summary>Between two calls of progress, rows.</summary>
    private const int RowsAReport = 1 << 16;

    /// <summary>
    /// Reads to the end of the stream. The error says what is wrong and where: <c>line 12</c>, or <c>rate</c>, <c>time</c> or <c>channels</c> where a person has to say more.
    /// </summary>
    /// <param name="stream">The file; it need not be able to go back.</param>
    /// <param name="options">What a person said about the file.</param>
    /// <param name="progress">Is told from time to time how many bytes have been read.</param>
    /// <param name="cancellation">Ends the reading with an exception.</param>
    public static Parsed<WaveformFile> Read(Stream stream, WaveformCsvOptions options, Action<long>? progress = null, CancellationToken cancellation = default)
    {
        ArgumentNullException.ThrowIfNull(stream);
        ArgumentNullException.ThrowIfNull(options);
        if (options.SampleRate is { } rate && (!double.IsFinite(rate) || rate is < 1e-3 or > 1e12))
        {
            return new InputError("rate", "The sample rate must be a number of samples a second, above 0.");
        }

        var lines = new ByteLines(stream);
        var head = lines.Head(out _);
        if (head.StartsWith((ReadOnlySpan<byte>)[0xFF, 0xFE]) || head.StartsWith((ReadOnlySpan<byte>)[0xFE, 0xFF]))
        {
            var wide = head[0] == 0xFF ? Encoding.Unicode : Encoding.BigEndianUnicode;
            lines = new ByteLines(Encoding.CreateTranscodingStream(new Rest(head.ToArray(), stream), wide, Encoding.UTF8, leaveOpen: true));
            head = lines.Head(out _);
        }

        if (head.StartsWith((ReadOnlySpan<byte>)[0xEF, 0xBB, 0xBF]))
        {
            lines.Skip(3);
            head = head[3..];
        }

        return head.IsEmpty ? new InputError("", "The file is empty.")
            : head.Contains((byte)0) ? new InputError("", "This is not text with columns. Save the waveform as CSV.")
            : Read(lines, options, progress, cancellation);
    }

    private static Parsed<WaveformFile> Read(ByteLines lines, WaveformCsvOptions options, Action<long>? progress, CancellationToken cancellation)
    {
        var layout = LayoutFinder.Find(HeadLines(lines.Head(out var all), all), options);
        if (layout.Error is { } unclear)
        {
            return unclear;
        }

        var rows = new RowCollector(layout.Value);
        while (lines.Next(out var line))
        {
            if (lines.Number <= layout.Value.PreambleLines)
            {
                continue;
            }

            if (rows.Add(line, lines.Number, lines.Whole) is { } wrong)
            {
                return wrong;
            }

            if (rows.Count % RowsAReport == 0)
            {
                cancellation.ThrowIfCancellationRequested();
                progress?.Invoke(lines.BytesRead);
            }
        }

        return lines.TooLong
            ? new InputError(Line(lines.Number), $"The line is longer than {ByteLines.LongestLine / 1024} KB: this is not a table with a row for each sample.")
            : rows.Finish();
    }

    internal static string Line(long number) => string.Create(CultureInfo.InvariantCulture, $"line {number}");

    /// <summary>The whole lines of the head; the last one only where the file ends with it.</summary>
    private static List<byte[]> HeadLines(ReadOnlySpan<byte> head, bool all)
    {
        var lines = new List<byte[]>();
        while (!head.IsEmpty && lines.Count < MostHeadLines)
        {
            var at = head.IndexOfAny((byte)'\n', (byte)'\r');
            if (at < 0)
            {
                if ((all || lines.Count == 0) && head.Length <= ByteLines.LongestLine)
                {
                    lines.Add(head.ToArray());
                }

                break;
            }

            if (at > ByteLines.LongestLine)
            {
                break;
            }

            lines.Add(head[..at].ToArray());
            head = head[(at + (head[at] == '\r' && at + 1 < head.Length && head[at + 1] == '\n' ? 2 : 1))..];
        }

        return lines;
    }

    /// <summary>Bytes that were looked at already, then the stream they came from.</summary>
    private sealed class Rest(byte[] first, Stream stream) : MemoryStream(first)
    {
        public override int Read(byte[] buffer, int offset, int count) => base.Read(buffer, offset, count) is > 0 and var got ? got : stream.Read(buffer, offset, count);

        public override int Read(Span<byte> buffer) => base.Read(buffer) is > 0 and var got ? got : stream.Read(buffer);
    }
}
