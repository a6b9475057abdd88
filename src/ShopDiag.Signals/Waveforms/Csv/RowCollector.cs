using System.Collections.Immutable;
using ShopDiag.Diagnosis;

namespace ShopDiag.Signals.Waveforms.Csv;

/// <summary>Collects the rows, and makes the waveform of them at the end.</summary>
internal sealed class RowCollector
{
    private readonly CsvLayout _layout;
    private readonly RowReader _row;
    private readonly TimeColumn _times = new();
    private readonly ImmutableArray<SampleBlocks> _samples;
    private int _leftOut;
    private long _firstLeftOut;
    private int _lastLength;
    private bool _cut;

    public RowCollector(CsvLayout layout)
    {
        _layout = layout;
        _row = new RowReader(layout);
        _samples = [.. layout.Channels.Select(_ => new SampleBlocks())];
    }

    public int Count { get; private set; }

    /// <summary>Takes a line; the error when nothing can come of the file.</summary>
    public InputError? Add(ReadOnlySpan<byte> line, long number, bool whole)
    {
        var kind = _row.Read(line);
        if (kind == RowKind.Blank)
        {
            return null;
        }

        if (!whole && (_row.Short || kind == RowKind.LeftOut || LastCell(line) < _lastLength))
        {
            // The file ends within a line: 1.2 may have been 1.2E-3.
            _cut = true;
            return null;
        }

        if (kind == RowKind.LeftOut)
        {
            _firstLeftOut = _leftOut++ == 0 ? number : _firstLeftOut;
            return null;
        }

        if (_row.HasTime && !_times.Add(_row.Time * _layout.TimeUnit, number))
        {
            return new InputError(WaveformCsv.Line(number), FormattableString.Invariant(
                $"The time goes back from {_times.Last:0.#########} s to {_row.Time * _layout.TimeUnit:0.#########} s. Save one recording a file; if column {_layout.Time + 1} is no time, state the samples a second."));
        }

        for (var c = 0; c < _samples.Length; c++)
        {
            _samples[c].Add(_row.Values[c]);
        }

        Count++;
        _lastLength = LastCell(line);
        return Count > WaveformCsv.MostRows || (long)Count * _samples.Length > WaveformCsv.MostSamples
            ? new InputError(WaveformCsv.Line(number), FormattableString.Invariant(
                $"The file is too large: at most {WaveformCsv.MostRows / 1_000_000} million rows and {WaveformCsv.MostSamples / 1_000_000} million values. Record fewer samples a second, cut it, or choose the channels to read."))
            : null;
    }

    /// <summary>The waveform or the times of events; the error when the rows make neither.</summary>
    public Parsed<WaveformFile> Finish()
    {
        if (Count < WaveformCsv.FewestRows)
        {
            return new InputError(_leftOut > 0 ? WaveformCsv.Line(_firstLeftOut) : "", $"Only {Count} rows of numbers were found; it takes {WaveformCsv.FewestRows} at least.");
        }

        if (_samples.IsEmpty)
        {
            return Events();
        }

        if (_samples.FirstOrDefault(s => s.Gaps > 0.5 * s.Count) is { } empty)
        {
            var channel = _layout.Channels[_samples.IndexOf(empty)];
            return new InputError("channels", $"{channel.Name} has no number in more than half of its rows. Choose the columns to read.");
        }

        if (!_row.HasTime)
        {
            return File(_layout.SampleRate!.Value, 0, [.. _samples.Select(s => s.Take())], []);
        }

        var even = EvenTimes.Of(_times, _samples);
        return even.Error is { } uneven ? uneven : File(even.Value.SampleRate, _times.First, even.Value.Samples, even.Value.Remarks);
    }

    private Parsed<WaveformFile> Events()
    {
        var seconds = ImmutableArray.CreateBuilder<double>(_times.Count);
        for (var i = 0; i < _times.Count; i++)
        {
            if (i == 0 || _times[i] > seconds[^1])
            {
                seconds.Add(_times[i]);
            }
        }

        return new WaveformFile { EventSeconds = seconds.ToImmutable(), Rows = Count, Remarks = Remarks([]) };
    }

    private Parsed<WaveformFile> File(double sampleRate, double start, float[][] samples, ImmutableArray<string> more)
    {
        var remarks = Remarks(more);
        for (var c = 0; c < _samples.Length; c++)
        {
            if (_samples[c].Gaps > 0)
            {
                remarks = remarks.Add($"{_layout.Channels[c].Name} has no value in {_samples[c].Gaps} of {Count} rows (empty or beyond the instrument's range); they are gaps.");
            }
        }

        return new WaveformFile
        {
            Waveform = new Waveform(sampleRate, start, [.. _layout.Channels.Select((c, i) => new WaveformChannel(c.Name, c.Unit, samples[i]))]),
            Rows = Count,
            Remarks = remarks,
        };
    }

    private ImmutableArray<string> Remarks(ImmutableArray<string> more)
    {
        ImmutableArray<string> remarks = _cut ? ["The last line is cut off; it was left out."] : [];
        return _leftOut == 0
            ? remarks.AddRange(more)
            : remarks.Add($"{_leftOut} {(_leftOut == 1 ? "line" : "lines")} without numbers {(_leftOut == 1 ? "was" : "were")} left out, the first is line {_firstLeftOut}.").AddRange(more);
    }

    private int LastCell(ReadOnlySpan<byte> line) => _layout.Separator == 0 ? line.Length : line.Length - 1 - line.LastIndexOf(_layout.Separator);
}
