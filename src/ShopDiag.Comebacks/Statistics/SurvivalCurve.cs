using System.Collections.Immutable;

namespace ShopDiag.Comebacks.Statistics;

/// <summary>A time at which it happened to some.</summary>
/// <param name="Time">When.</param>
/// <param name="AtRisk">How many were still watched just before.</param>
/// <param name="Events">To how many it happened, from 1.</param>
/// <param name="Survival">Share to which it has not happened from then on, 0 to 1.</param>
/// <param name="StandardError">Greenwood's standard error of that share; null at 0, where the formula has none.</param>
/// <param name="Band">The interval of that share at this time.</param>
public readonly record struct SurvivalStep(int Time, int AtRisk, int Events, double Survival, double? StandardError, Interval Band);

/// <summary>How many stopped being watched at a time without its having happened.</summary>
/// <param name="Time">When.</param>
/// <param name="Count">How many, from 1.</param>
/// <param name="Survival">Share to which it has not happened, on that day's step: where the mark is drawn.</param>
public readonly record struct CensorMark(int Time, int Count, double Survival);

/// <summary>The curve read at one time.</summary>
/// <param name="Time">When.</param>
/// <param name="AtRisk">How many were watched at least that long; where it is small, so is what the curve can say.</param>
/// <param name="Survival">Share to which it has not happened by the end of that time, 0 to 1.</param>
/// <param name="StandardError">Greenwood's standard error; null at 0.</param>
/// <param name="Band">The interval of the share.</param>
public readonly record struct SurvivalPoint(int Time, int AtRisk, double Survival, double? StandardError, Interval Band);

/// <summary>
/// Share to which it has not happened yet, by time, from cases of which some were not watched to the end. Made by <see cref="KaplanMeier"/>.
/// </summary>
public sealed class SurvivalCurve
{
    private readonly int[] _times;
    private readonly int[] _atRisk;
    private readonly double _confidence;

    internal SurvivalCurve(int[] times, int[] atRisk, ImmutableArray<SurvivalStep> steps, ImmutableArray<CensorMark> marks, double confidence) =>
        (_times, _atRisk, Steps, CensorMarks, _confidence) = (times, atRisk, steps, marks, confidence);

    /// <summary>The times at which it happened, in order.</summary>
    public ImmutableArray<SurvivalStep> Steps { get; }

    /// <summary>The times at which watching stopped, in order.</summary>
    public ImmutableArray<CensorMark> CensorMarks { get; }

    /// <summary>How many there were at the start.</summary>
    public int Total => _atRisk.Length == 0 ? 0 : _atRisk[0];

    /// <summary>To how many it happened.</summary>
    public int Events => Steps.Sum(s => s.Events);

    /// <summary>How long the longest watched one was watched; null when there was none.</summary>
    public int? LastTime => _times.Length == 0 ? null : _times[^1];

    /// <summary>The first time at which half or fewer are left; null when more than half were left to the end.</summary>
    public int? Median
    {
        get
        {
            // The product of fractions that make a half may come out a last digit above it.
            var step = Steps.FirstOrDefault(s => s.Survival <= 0.5 + 1e-12);
            return step.Events > 0 ? step.Time : null;
        }
    }

    /// <summary>How many were watched at least until a time, from 0 on.</summary>
    public int AtRisk(int time)
    {
        var next = FirstAtOrAfter(time);
        return next == _times.Length ? 0 : _atRisk[next];
    }

    /// <summary>
    /// The curve at a time, from 0 on; null when nobody was watched that long, as nothing is known then (unless it had happened to all before: then 0).
    /// Before the first event the band is Wilson's for none of those who were watched at least that long: the log-log band has no width there.
    /// </summary>
    public SurvivalPoint? At(int time)
    {
        var atRisk = AtRisk(time);
        var (step, any) = LastStep(time);
        if (atRisk == 0 && !(any && step.Survival == 0))
        {
            return null;
        }

        return any
            ? new(time, atRisk, step.Survival, step.StandardError, step.Band)
            : new(time, atRisk, 1, 0, Proportions.Wilson(atRisk, atRisk, _confidence));
    }

    private (SurvivalStep Step, bool Any) LastStep(int time)
    {
        var (low, high) = (0, Steps.Length);
        while (low < high)
        {
            var middle = (low + high) / 2;
            (low, high) = Steps[middle].Time <= time ? (middle + 1, high) : (low, middle);
        }

        return low == 0 ? (default, false) : (Steps[low - 1], true);
    }

    private int FirstAtOrAfter(int time)
    {
        var found = Array.BinarySearch(_times, time);
        return found >= 0 ? found : ~found;
    }
}
