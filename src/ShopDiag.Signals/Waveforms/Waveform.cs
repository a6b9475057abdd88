namespace ShopDiag.Signals.Waveforms;

/// <summary>One recorded quantity of a waveform.</summary>
/// <param name="Name">As the file calls it; <c>column 2</c> and so on where it has no name.</param>
/// <param name="Unit">As the file gives it, else null.</param>
/// <param name="Samples">In the file's unit, evenly spaced in time; a gap is NaN.</param>
public sealed record WaveformChannel(string Name, string? Unit, float[] Samples);

/// <summary>What an oscilloscope recorded: evenly spaced samples of one or more channels.</summary>
/// <param name="SampleRate">Samples a second, above 0.</param>
/// <param name="StartSeconds">Time of the first sample by the file's own clock.</param>
/// <param name="Channels">All of the same length.</param>
public sealed record Waveform(double SampleRate, double StartSeconds, IReadOnlyList<WaveformChannel> Channels)
{
    /// <summary>Samples of each channel.</summary>
    public int Length => Channels.Count == 0 ? 0 : Channels[0].Samples.Length;

    /// <summary>Seconds from the first sample to the last.</summary>
    public double Seconds => Length < 2 ? 0 : (Length - 1) / SampleRate;
}
