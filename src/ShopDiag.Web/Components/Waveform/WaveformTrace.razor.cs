using System.Globalization;
using System.Text;
using Microsoft.AspNetCore.Components;
using ShopDiag.Signals.Waveforms;
using ShopDiag.Signals.Waveforms.Recognition;

namespace ShopDiag.Web.Components.WaveformViews;

/// <summary>Draws the channels of a waveform. What is drawn has some hundred columns, however long the recording.</summary>
public sealed partial class WaveformTrace
{
    /// <summary>Height of a channel for a width of 1000.</summary>
    private const int High = 260;

    private const int Columns = 500;

    /// <summary>Fewest samples that are shown.</summary>
    private const int Shortest = 20;

    private const int MostLabels = 40;

    private const int TableRows = 12;

    private int _from;
    private int _to;
    private IReadOnlyList<DrawnChannel> _drawn = [];
    private IReadOnlyList<DrawnMark> _marks = [];
    private IReadOnlyList<(string From, IReadOnlyList<string> Cells)> _table = [];
    private Waveform? _shown;

    /// <summary>The waveform.</summary>
    [Parameter, EditorRequired] public required Waveform Waveform { get; set; }

    /// <summary>The channels to draw, with their pyramids.</summary>
    [Parameter, EditorRequired] public required IReadOnlyList<(WaveformChannel Channel, MinMaxTrace Trace)> Traces { get; set; }

    /// <summary>Moments to mark.</summary>
    [Parameter] public IReadOnlyList<WaveformMark> Marks { get; set; } = [];

    /// <summary>True where the samples count teeth instead of time.</summary>
    [Parameter] public bool ByTooth { get; set; }

    private bool IsWhole => _from == 0 && _to == Waveform.Length;

    /// <summary>Shows the part between two shares of what is shown now.</summary>
    public void ShowStretch(double from, double to)
    {
        Show(_from + (int)((_to - _from) * from), _from + (int)Math.Ceiling((_to - _from) * to));
        StateHasChanged();
    }

    /// <inheritdoc/>
    protected override void OnParametersSet()
    {
        if (!ReferenceEquals(_shown, Waveform))
        {
            (_shown, _from, _to) = (Waveform, 0, Waveform.Length);
        }

        Draw();
    }

    private void Zoom(double factor)
    {
        var (middle, half) = ((_from + _to) / 2.0, (_to - _from) * factor / 2);
        Show((int)(middle - half), (int)(middle + half));
    }

    private void Move(double share)
    {
        var by = Math.Clamp((int)((_to - _from) * share), -_from, Waveform.Length - _to);
        Show(_from + by, _to + by);
    }

    private void Show(int from, int to)
    {
        var length = Math.Clamp(to - from, Math.Min(Shortest, Waveform.Length), Waveform.Length);
        _from = Math.Clamp(from, 0, Waveform.Length - length);
        _to = _from + length;
        Draw();
    }

    private void Draw()
    {
        _drawn = [.. Traces.Select(t => DrawnChannel.Of(t.Channel, t.Trace, _from, _to))];
        _marks = [.. Marks.Select(m => (Mark: m, At: (m.Seconds - Waveform.StartSeconds) * Waveform.SampleRate)).Where(m => m.At >= _from && m.At < _to)
            .Select(m => new DrawnMark(N((m.At - _from) / (_to - _from) * 1000), N((m.At - _from) / (_to - _from) * 100), m.Mark.Label))];
        _table = [.. Enumerable.Range(0, TableRows).Select(r => (Share(r), Share(r + 1))).Where(p => p.Item2 > p.Item1)
            .Select(p => (Time(p.Item1), (IReadOnlyList<string>)[.. Traces.Select(t => Words(t.Trace.Over(p.Item1, p.Item2)))]))];

        int Share(int row) => _from + (int)((long)(_to - _from) * row / TableRows);
    }

    private string Time(double sample) => ByTooth ? $"tooth {sample.ToString("0", CultureInfo.InvariantCulture)}" : Seconds(Waveform.StartSeconds + (sample / Waveform.SampleRate), (_to - _from) / Waveform.SampleRate);

    private static string Seconds(double seconds, double span) => span switch
    {
        < 0.002 => $"{(1e6 * seconds).ToString("0", CultureInfo.InvariantCulture)} µs",
        < 2 => $"{(1e3 * seconds).ToString(span < 0.02 ? "0.00" : "0", CultureInfo.InvariantCulture)} ms",
        _ => $"{seconds.ToString("0.00", CultureInfo.InvariantCulture)} s",
    };

    private static string Words(MinMax range) => range.HasValue ? $"{Figure(range.Min)} to {Figure(range.Max)}" : "no value";

    // Minus nothing is nothing.
    internal static string Figure(double value) => (value == 0 ? 0 : value).ToString("G4", CultureInfo.InvariantCulture);

    internal static string N(double value) => Math.Round(value, 1, MidpointRounding.AwayFromZero).ToString(CultureInfo.InvariantCulture);

    private sealed record DrawnMark(string X, string Percent, string Label);

    private sealed record DrawnLevel(string Y, string Percent, string Word);

    private sealed record DrawnChannel(string Title, string InWords, string Path, bool IsArea, IReadOnlyList<DrawnLevel> Levels)
    {
        public static DrawnChannel Of(WaveformChannel channel, MinMaxTrace trace, int from, int to)
        {
            var columns = trace.Columns(from, to, Columns);
            var all = trace.Over(from, to);
            var title = channel.Unit is { } unit ? $"{channel.Name} ({unit})" : channel.Name;
            if (!all.HasValue)
            {
                return new(title, $"{title}: no values here", "", false, []);
            }

            var margin = Math.Max(1e-9, 0.06 * (all.Max - all.Min));
            var (low, high) = (all.Min - margin, all.Max + margin);
            var area = to - from > columns.Length;
            double Y(double value) => (1 - ((value - low) / (high - low))) * High;
            DrawnLevel[] levels = [.. RoundLevels(low, high).Select(v => new DrawnLevel(N(Y(v)), N(Y(v) / High * 100), Figure(v)))];
            return new(title, $"{title} over time, from {Figure(all.Min)} to {Figure(all.Max)}", PathOf(columns, Y, area), area, levels);
        }

        /// <summary>Round values, three to six of them.</summary>
        private static IEnumerable<double> RoundLevels(double low, double high)
        {
            var rough = (high - low) / 4;
            var power = Math.Pow(10, Math.Floor(Math.Log10(rough)));
            var step = power * ((rough / power) switch { < 1.5 => 1, < 3.5 => 2, < 7.5 => 5, _ => 10 });
            for (var level = Math.Ceiling(low / step); level * step <= high; level++)
            {
                yield return level * step;
            }
        }

        /// <summary>Of few samples a line; of many the band from the lowest to the highest of each column. A gap breaks it.</summary>
        private static string PathOf(MinMax[] columns, Func<double, double> y, bool area)
        {
            var path = new StringBuilder();
            var width = 1000.0 / Math.Max(1, columns.Length - 1);
            for (var i = 0; i < columns.Length; i++)
            {
                if (!columns[i].HasValue)
                {
                    continue;
                }

                var start = i;
                while (i + 1 < columns.Length && columns[i + 1].HasValue)
                {
                    i++;
                }

                for (var k = start; k <= i; k++)
                {
                    path.Append(k == start ? 'M' : 'L').Append(N(k * width)).Append(' ').Append(N(y(columns[k].Max)));
                }

                for (var k = i; area && k >= start; k--)
                {
                    path.Append('L').Append(N(k * width)).Append(' ').Append(N(y(columns[k].Min)));
                }

                path.Append(area ? "Z" : "");
            }

            return path.ToString();
        }
    }
}
