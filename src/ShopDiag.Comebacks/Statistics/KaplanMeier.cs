using System.Collections.Immutable;

namespace ShopDiag.Comebacks.Statistics;

/// <summary>
/// The product-limit estimate of Kaplan and Meier (J. Am. Stat. Assoc. 53 (1958) 457): S(t) = Π (1 − d/n) over the times up to t at which it happened, n being
/// those still watched just before and d those to which it happened. Whoever is watched no longer at such a time counts as watched through it.
/// </summary>
/// <remarks>
/// Standard error by Greenwood: S √Σ d/(n(n−d)). Band on the scale ln(−ln S), which never leaves 0 to 1: S^exp(±z √Σ/ln S) (Kalbfleisch and Prentice).
/// Each band is for its own time, not for the whole curve at once. Where S has come to 0 that formula has no width; the band then goes from 0 to the upper end
/// of the step before (Wilson's for all of n where there is none), since the share cannot have risen.
/// </remarks>
public static class KaplanMeier
{
    /// <summary>The curve of observations in any order. No observations make a curve that says nothing.</summary>
    /// <exception cref="ArgumentOutOfRangeException">A time lies below 0, or the confidence not between 0 and 1.</exception>
    public static SurvivalCurve Of(IEnumerable<Observation> observations, double confidence = Confidence.Usual) =>
        OfSorted(Observation.Sorted(observations), confidence);

    /// <summary>The same for observations in order of time, none below 0.</summary>
    internal static SurvivalCurve OfSorted(ReadOnlySpan<Observation> sorted, double confidence = Confidence.Usual)
    {
        var band = new Band(Confidence.Deviations(confidence), confidence);
        var (times, atRisk) = (new List<int>(), new List<int>());
        var steps = ImmutableArray.CreateBuilder<SurvivalStep>();
        var marks = ImmutableArray.CreateBuilder<CensorMark>();
        var (survival, greenwood) = (1.0, 0.0);
        var walk = new TimeWalk(sorted);
        while (walk.Next())
        {
            times.Add(walk.Time);
            atRisk.Add(walk.AtRisk);
            if (walk.Events > 0)
            {
                double n = walk.AtRisk, d = walk.Events;
                (survival, greenwood) = (survival * ((n - d) / n), greenwood + (d / (n * (n - d))));
                var interval = band.At(survival, greenwood, walk.AtRisk);
                steps.Add(new(walk.Time, walk.AtRisk, walk.Events, survival, survival > 0 ? survival * Math.Sqrt(greenwood) : null, interval));
            }

            if (walk.Censored > 0)
            {
                marks.Add(new(walk.Time, walk.Censored, survival));
            }
        }

        return new([.. times], [.. atRisk], steps.DrainToImmutable(), marks.DrainToImmutable(), confidence);
    }

    /// <summary>The bands along a curve.</summary>
    private sealed class Band(double deviations, double confidence)
    {
        private double? _high;

        public Interval At(double survival, double greenwood, int atRisk)
        {
            var band = survival > 0 ? LogLog(survival, greenwood) : new(0, _high ?? Proportions.Wilson(0, atRisk, confidence).High);
            _high = band.High;
            return band;
        }

        private Interval LogLog(double survival, double greenwood)
        {
            var power = Math.Exp(deviations * Math.Sqrt(greenwood) / -Math.Log(survival));
            return new(Math.Pow(survival, power), Math.Pow(survival, 1 / power));
        }
    }
}
