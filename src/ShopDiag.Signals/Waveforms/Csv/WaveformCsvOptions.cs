using System.Collections.Immutable;

namespace ShopDiag.Signals.Waveforms.Csv;

/// <summary>What a person may say about a file of samples that it does not say itself.</summary>
public sealed record WaveformCsvOptions
{
    /// <summary>Samples a second, above 0; a column of times is then not looked at. Null to take the file's own time or rate.</summary>
    public double? SampleRate { get; init; }

    /// <summary>Seconds that a 1 in the time column stands for, such as 0.001 for milliseconds; null to take what the file says.</summary>
    public double? TimeUnit { get; init; }

    /// <summary>The columns to read as channels, by number from 1 on; empty for all that hold numbers.</summary>
    public ImmutableArray<int> Channels { get; init; } = [];
}
