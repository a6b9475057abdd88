using System.Collections.Immutable;
using ShopDiag.Diagnosis.Statistics;

namespace ShopDiag.Diagnosis.BenchTests;

/// <summary>How a number stands to the sound ones of its kind.</summary>
internal enum Standing
{
    /// <summary>Not below the least.</summary>
    Like,

    /// <summary>Below the least.</summary>
    Below,

    /// <summary>Below the least, but the sound ones scatter as widely.</summary>
    LostInScatter,

    /// <summary>Its own trials lie on both sides of the least.</summary>
    TrialsApart,
}

/// <summary>One number a place, set beside the others of the same engine.</summary>
internal sealed class Beside
{
    /// <summary>A gap counts, and a place stands out, beyond this many robust standard deviations; as for dry compression.</summary>
    private const double ScatterSigmas = 3;

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

    /// <summary>Highest of all.</summary>
    public double Highest => _all.Max(a => a.Value);

    /// <summary>How many places were read.</summary>
    public int Count => _all.Length;

    /// <summary>The level of the sound ones: low ones do not move it while half of four or more are sound.</summary>
    public double SoundLevel => Robust.SoundLevel(_all.Select(a => a.Value));

    /// <summary>
    /// How the number at a place stands to a least, given that the sound ones lie at <see cref="SoundLevel"/>. Trials further apart than
    /// <paramref name="apartPercent"/> on both sides of the least do not count; nor does a gap that the scatter of three or more sound ones explains.
    /// </summary>
    public Standing Stands(Place place, double least, double apartPercent)
    {
        var (_, value, lowest, highest) = _all.Single(a => a.At == place);
        if (lowest < least && highest >= least && 100 * (highest - lowest) > apartPercent * value)
        {
            return Standing.TrialsApart;
        }

        double[] sound = [.. _all.Where(a => a.Value >= least).Select(a => a.Value)];
        return value >= least ? Standing.Like
            : sound.Length >= 3 && SoundLevel - value < ScatterSigmas * Robust.Sigma(sound) ? Standing.LostInScatter
            : Standing.Below;
    }

    /// <summary>True for a number not below the least that yet lies far outside the scatter of three or more others.</summary>
    public bool StandsOutBelow(Place place, double oddPercent) =>
        OtherCount(place) >= 3 && Others(place)!.Value - At(place)!.Value is var below
        && below > Others(place)!.Value * oddPercent / 100 && below > ScatterSigmas * OthersSigma(place);

    /// <summary>Robust standard deviation of the other places; 0 for fewer than two.</summary>
    public double OthersSigma(Place place) => _all.Where(a => a.At != place).Select(a => a.Value).ToArray() is { Length: > 1 } others ? Robust.Sigma(others) : 0;
}
