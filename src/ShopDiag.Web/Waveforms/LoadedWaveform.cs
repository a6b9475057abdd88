using System.Globalization;
using ShopDiag.Signals.Waveforms;
using ShopDiag.Signals.Waveforms.Csv;

namespace ShopDiag.Web.Waveforms;

/// <summary>A file of samples that was read, ready to be drawn.</summary>
public sealed class LoadedWaveform
{
    /// <summary>More channels than this are read but not drawn.</summary>
    private const int MostDrawn = 4;

    private LoadedWaveform(string name, WaveformFile file)
    {
        File = file;
        ByTooth = file.Waveform is null;
        Drawn = file.Waveform ?? BetweenTeeth(file);
        Traces = [.. Drawn.Channels.Take(MostDrawn).Select(c => (c, new MinMaxTrace(c.Samples)))];
        Names = [.. Drawn.Channels.Select((c, i) => $"{(i + 1).ToString(CultureInfo.InvariantCulture)}: {c.Name}")];
        About = ByTooth
            ? $"{name}: {file.EventSeconds.Length.ToString("N0", CultureInfo.InvariantCulture)} times. The trace shows the time from each to the next."
            : string.Create(CultureInfo.InvariantCulture, $"{name}: {file.Rows:N0} rows, {Drawn.Seconds:0.###} s, {Drawn.SampleRate:N0} samples a second, {Drawn.Channels.Count} {(Drawn.Channels.Count == 1 ? "channel" : "channels")}.");
    }

    /// <summary>What was read.</summary>
    public WaveformFile File { get; }

    /// <summary>What is drawn: the samples, or the times from tooth to tooth.</summary>
    public Waveform Drawn { get; }

    /// <summary>True where there are no samples but times.</summary>
    public bool ByTooth { get; }

    /// <summary>The channels that are drawn.</summary>
    public IReadOnlyList<(WaveformChannel Channel, MinMaxTrace Trace)> Traces { get; }

    /// <summary>The channels by number and name.</summary>
    public IReadOnlyList<string> Names { get; }

    /// <summary>Channels of the file; 0 where it holds times alone.</summary>
    public int Channels => ByTooth ? 0 : Drawn.Channels.Count;

    /// <summary>The file in a sentence.</summary>
    public string About { get; }

    /// <summary>Makes it ready to be drawn; takes a moment for a long one.</summary>
    public static LoadedWaveform Of(string name, WaveformFile file)
    {
        ArgumentNullException.ThrowIfNull(file);
        return new(name, file);
    }

    private static Waveform BetweenTeeth(WaveformFile file)
    {
        var times = file.EventSeconds;
        return new Waveform(1, 0, [new("tooth to tooth", "ms", [.. times.Skip(1).Zip(times, (b, a) => (float)(1e3 * (b - a)))])]);
    }
}
