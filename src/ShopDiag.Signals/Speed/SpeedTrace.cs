using System.Collections.Immutable;

namespace ShopDiag.Signals.Speed;

/// <summary>Engine speed at one moment.</summary>
/// <param name="Seconds">Time since the start of the recording, in seconds.</param>
/// <param name="Rpm">Revolutions a minute.</param>
/// <param name="Confidence">0 (a guess) to 1 (clear): how far this speed stands out from the others at that moment. 1 for what a log says.</param>
public readonly record struct SpeedPoint(double Seconds, double Rpm, double Confidence);

/// <summary>Engine speed over time. Times rise; gaps may lie between them.</summary>
public sealed record SpeedTrace
{
    /// <summary>A trace that is clear for less than this share of its time cannot be trusted. From measurement on synthetic engines, see docs/listening.md.</summary>
    public const double LeastClearShare = 0.6;

    /// <summary>From this confidence on a point counts as clear.</summary>
    public const double Clear = 0.22;

    /// <summary>The points in order of time.</summary>
    public required ImmutableArray<SpeedPoint> Points { get; init; }

    /// <summary>The smallest step the source can show, rpm: 0 for sound, the resolution of a log.</summary>
    public double StepRpm { get; init; }

    /// <summary>
    /// Another speed (rpm, at the usual speed of the trace) that explains the sound nearly as well; null when there is none. Knowing the rough speed and the number
    /// of cylinders rightly decides between them.
    /// </summary>
    public double? Rival { get; init; }

    /// <summary>What is to be said about the source, in plain words, such as that the file was cut short.</summary>
    public ImmutableArray<string> Remarks { get; init; } = [];

    /// <summary>Share of the points that are clear, 0 to 1; 0 without points.</summary>
    public double ClearShare => Points.IsEmpty ? 0 : (double)Points.Count(p => p.Confidence >= Clear) / Points.Length;
}
