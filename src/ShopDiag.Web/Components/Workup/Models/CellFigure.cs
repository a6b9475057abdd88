using System.Collections.Immutable;
using ShopDiag.Diagnosis.BenchTests;
using ShopDiag.Diagnosis.Workups;

namespace ShopDiag.Web.Components.WorkupViews;

/// <summary>The figure that a cell of the sheet shows, and the unit that its row names once for all cells.</summary>
public static class CellFigure
{
    /// <summary>The unit of a row: of the measure that is judged, with its name where it is none of the fields; empty where cells show words or several numbers.</summary>
    public static string UnitOf(BenchTest test, ShopUnits units)
    {
        ArgumentNullException.ThrowIfNull(test);
        ArgumentNullException.ThrowIfNull(units);
        return Judged(test) is not { } field ? "" : test.Measured is { } name ? $"{units.Symbol(field)}, {name}" : units.Symbol(field);
    }

    /// <summary>
    /// What was judged where the evaluation names it; otherwise the middle of the trials of the one number that must be given;
    /// otherwise the newest reading's numbers side by side; codes as they are; empty where a word says it all.
    /// </summary>
    public static string Of(BenchTest test, ImmutableArray<Reading> readings, Finding? finding, ShopUnits units)
    {
        ArgumentNullException.ThrowIfNull(test);
        ArgumentNullException.ThrowIfNull(units);
        if (readings.IsEmpty)
        {
            return "";
        }

        if (test.Fields.FirstOrDefault(f => f.Kind == FieldKind.Codes) is { } codes)
        {
            return string.Join(" ", readings.SelectMany(r => r.Value.Texts(codes.Name)).Distinct());
        }

        var needed = Needed(test);
        if (Judged(test) is { } field && (finding?.Measure ?? (needed.Length == 1 ? Middle(readings, field) : null)) is { } measure)
        {
            return units.Figure(field, measure);
        }

        return string.Join(" / ", needed.Select(f => readings[^1].Value.Number(f.Name) is { } n ? units.Figure(f, n) : "").Where(t => t.Length > 0));
    }

    // All numbers that must be given are of one quantity: then the measure is of that quantity too.
    private static TestField? Judged(BenchTest test) =>
        Needed(test) is [var first, ..] needed && needed.All(f => f.Quantity == first.Quantity) ? first : null;

    private static ImmutableArray<TestField> Needed(BenchTest test) =>
        [.. test.Fields.Where(f => f.Kind == FieldKind.Number && !f.Optional)];

    private static double? Middle(ImmutableArray<Reading> readings, TestField field)
    {
        var numbers = readings.SelectMany(r => r.Value.Numbers(field.Name)).Order().ToArray();
        return numbers.Length == 0 ? null : (numbers[(numbers.Length - 1) / 2] + numbers[numbers.Length / 2]) / 2;
    }
}
