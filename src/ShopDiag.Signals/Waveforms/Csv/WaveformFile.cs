using System.Collections.Immutable;

namespace ShopDiag.Signals.Waveforms.Csv;

/// <summary>What a file of samples held: either a waveform or the times of events, such as of the teeth of a wheel.</summary>
public sealed record WaveformFile
{
    /// <summary>Evenly spaced samples; null when the file holds nothing but times.</summary>
    public Waveform? Waveform { get; init; }

    /// <summary>Seconds of each event, rising; empty when the file holds samples.</summary>
    public ImmutableArray<double> EventSeconds { get; init; } = [];

    /// <summary>Rows with numbers that were read.</summary>
    public required int Rows { get; init; }

    /// <summary>What a person should know of how it was read: rows left out, gaps, times that are not even.</summary>
    public ImmutableArray<string> Remarks { get; init; } = [];
}
