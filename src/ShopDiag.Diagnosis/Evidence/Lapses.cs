using System.Collections.Immutable;
using ShopDiag.Diagnosis.BenchTests;
using ShopDiag.Diagnosis.Causes;

namespace ShopDiag.Diagnosis.Evidence;

/// <summary>
/// How one look goes wrong by itself: a step left out, a wisp of smoke not seen, a misfire that did not come in that minute; a needle that jerked once, a tick that came from elsewhere. The next
/// look goes wrong by a new chance only. So of the times that a fault reads good or a sound part bad, some lie in the look and not in the car, and two readings that agree say more than one.
/// </summary>
/// <remarks>Each single reading keeps exactly the distribution of its rule: what the look adds is taken out of what is there. What a stored code says does not change with the look.</remarks>
internal sealed class Lapses
{
    /// <summary>Share that lies in the look of the good readings of the fault that a test shows best, and of what is read bad on a sound part. Common practice; no published figure.</summary>
    private const double Share = 0.5;

    private readonly bool[] _good;
    private readonly double _overlooked;
    private readonly double[] _imagined;

    private Lapses(bool[] good, double overlooked, double[] imagined) => (_good, _overlooked, _imagined) = (good, overlooked, imagined);

    /// <summary>Those of an aspect: bounded by the cause, or the sound engine, that shows an outcome least often.</summary>
    public static Lapses Of(BenchTest test, Aspect aspect, ImmutableArray<Cause> causes)
    {
        bool[] good = [.. aspect.Outcomes.Select(o => o.Good || o.AsSound)];
        if (test.CodesField is not null || Array.TrueForAll(good, g => g) || Array.TrueForAll(good, g => !g))
        {
            return new Lapses(good, 0, new double[good.Length]);
        }

        double[] healthy = [.. aspect.Outcomes.Select(o => o.Healthy)];
        (double[] Shown, double Sleeps)[] rules =
        [
            (healthy, 0),
            .. causes.SelectMany(c => c.Shows.Where(r => r.Aspect == aspect.Id).Select(r => (aspect.Outcomes.Select(o => r.Shows.GetValueOrDefault(o.Id)).ToArray(), aspect.Live ? c.Sleeps : 0))),
        ];
        double Good(double[] shown) => shown.Where((_, o) => good[o]).Sum();
        return new Lapses(
            good,
            Share * rules.Min(r => Awake(Good(r.Shown), Good(healthy), r.Sleeps)),
            [.. good.Select((g, o) => g ? 0 : Share * rules.Min(r => r.Shown[o]))]);
    }

    // Of the good readings of a fault that sleeps, those that it sleeps through do not lie in the look; where that would be nearly all, half.
    private static double Awake(double good, double healthy, double sleeps) => Math.Max(good / 2, (good - (sleeps * healthy)) / (1 - sleeps));

    /// <summary>What is there, where a distribution says what one look shows.</summary>
    public double[] Without(double[] shown)
    {
        var seenGood = shown.Where((_, o) => _good[o]).Sum();
        if (seenGood == 0)
        {
            return shown;
        }

        var isGood = (seenGood - _overlooked) / (1 - _imagined.Sum() - _overlooked);
        return [.. shown.Select((p, o) => _good[o] ? p * isGood / seenGood : Math.Max(0, (p - (isGood * _imagined[o])) / (1 - _overlooked)))];
    }

    /// <summary>For each true outcome the probability that a look shows the given one, before any slip of the pen.</summary>
    /// <param name="outcome">What is shown.</param>
    /// <param name="healthy">What a sound part shows, by outcome: how what is overlooked falls on good outcomes, where there are several.</param>
    public double[] Seen(int outcome, double[] healthy)
    {
        var missed = _good[outcome] ? _overlooked * healthy[outcome] / healthy.Where((_, o) => _good[o]).Sum() : 0;
        return [.. _good.Select((good, o) => good
            ? (o == outcome ? 1 - _imagined.Sum() : _imagined[outcome])
            : (o == outcome ? 1 - _overlooked : missed))];
    }
}
