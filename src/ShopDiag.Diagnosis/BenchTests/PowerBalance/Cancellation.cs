using System.Collections.Immutable;
using ShopDiag.Diagnosis.Statistics;

namespace ShopDiag.Diagnosis.BenchTests.PowerBalance;

/// <summary>What cancelling one cylinder did to the engine speed, over all its trials. Revolutions a minute.</summary>
/// <param name="At">The cylinder.</param>
/// <param name="Base">Median speed before.</param>
/// <param name="Cancelled">Median lowest speed without it.</param>
/// <param name="Sigma">Standard deviation of the drop from trial to trial; null for a single trial.</param>
internal sealed record Cancellation(Place At, double Base, double Cancelled, double? Sigma)
{
    /// <summary>How far the speed fell; below 0 where it rose.</summary>
    public double Drop => Base - Cancelled;

    /// <summary>Puts the trials of one cylinder together; null when a speed is missing.</summary>
    public static Cancellation? Of(Place at, ImmutableArray<Reading> trials)
    {
        var bases = trials.Numbers("baseRpm");
        var cancelled = trials.Numbers("cancelledRpm");
        return bases.IsEmpty || cancelled.IsEmpty
            ? null
            : new(at, Robust.Median(bases), Robust.Median(cancelled), Robust.TrialSigma([.. trials.SelectMany(Drops)]));
    }

    /// <summary>The drops of one reading: trial by trial, or from its middle base speed where the two lists do not pair up.</summary>
    private static IEnumerable<double> Drops(Reading reading)
    {
        var bases = reading.Value.Numbers("baseRpm");
        var cancelled = reading.Value.Numbers("cancelledRpm");
        if (bases.Length == cancelled.Length)
        {
            return bases.Zip(cancelled, (b, c) => b - c);
        }

        return bases.IsEmpty ? [] : cancelled.Select(c => Robust.Median(bases) - c);
    }
}
