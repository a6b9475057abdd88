using System.Collections.Immutable;
using ShopDiag.Diagnosis.Statistics;

namespace ShopDiag.Diagnosis.BenchTests;

/// <summary>One number a place, set beside the others of the same engine.</summary>
internal sealed class Beside
{
    private readonly ImmutableArray<(Place At, double Value, double Lowest, double Highest)> _all;

    /// <summary>The median over the trials of each place that has the field.</summary>
    public Beside(EvaluationInput input, string field)
        : this(input, t => t.Value.Number(field))
    {
    }

    /// <summary>The median over the trials of each place of what is computed from them.</summary>
    public Beside(EvaluationInput input, Func<Reading, double?> number) => _all =
    [
        .. input.Readings
            .Select(r => (r.Key, Trials: r.Value.Select(number).OfType<double>().Order().ToArray()))
            .Where(r => r.Trials.Length > 0)
            .Select(r => (r.Key, Robust.Median(r.Trials), r.Trials[0], r.Trials[^1])),
    ];

    /// <summary>The places with their number, in place order.</summary>
    public IEnumerable<(Place At, double Value)> Values => _all.Select(a => (a.At, a.Value));

    /// <summary>Mean over the places.</summary>
    public double Average => _all.Select(a => a.Value).Order().Average();

    /// <summary>The number at a place, or null.</summary>
    public double? At(Place place) => _all.Where(a => a.At == place).Select(a => (double?)a.Value).FirstOrDefault();

    /// <summary>Lowest and highest trial at a place.</summary>
    public (double Lowest, double Highest) Trials(Place place) => _all.Where(a => a.At == place).Select(a => (a.Lowest, a.Highest)).First();

    /// <summary>Median of the other places, or null when there is none.</summary>
    public double? Others(Place place) => _all.Where(a => a.At != place).Select(a => a.Value).ToArray() is { Length: > 0 } others ? Robust.Median(others) : null;

    /// <summary>How many other places were read.</summary>
    public int OtherCount(Place place) => _all.Count(a => a.At != place);

    /// <summary>Robust standard deviation of the other places; 0 for fewer than two.</summary>
    public double OthersSigma(Place place) => _all.Where(a => a.At != place).Select(a => a.Value).ToArray() is { Length: > 1 } others ? Robust.Sigma(others) : 0;
}
