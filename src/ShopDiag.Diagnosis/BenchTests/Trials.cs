using System.Collections.Immutable;

namespace ShopDiag.Diagnosis.BenchTests;

/// <summary>The readings of one test at one place, which are trials of one measurement.</summary>
internal static class Trials
{
    /// <summary>All numbers of a field over the trials, ascending.</summary>
    public static ImmutableArray<double> Numbers(this ImmutableArray<Reading> trials, string field) =>
        [.. trials.SelectMany(t => t.Value.Numbers(field)).Order()];

    /// <summary>The different words of a field over the trials, in ordinal order.</summary>
    public static ImmutableArray<string> Words(this ImmutableArray<Reading> trials, string field) =>
        [.. trials.SelectMany(t => t.Value.Texts(field)).Distinct(StringComparer.Ordinal).Order(StringComparer.Ordinal)];

    /// <summary>How far trials lie apart in percent of their middle; 0 for one, or where all are 0.</summary>
    public static double ApartPercent(ImmutableArray<double> ascending)
    {
        var middle = Statistics.Robust.Median(ascending);
        return middle == 0 ? 0 : 100 * (ascending[^1] - ascending[0]) / Math.Abs(middle);
    }
}
