using System.Globalization;
using ShopDiag.Diagnosis.BenchTests;

namespace ShopDiag.Web.Components.WorkupViews;

/// <summary>Readings in words and figures.</summary>
public static class ReadingText
{
    /// <summary>All of a reading in one line, fields named where there are several: <c>Leakage 8 %, air heard at: tailpipe</c>.</summary>
    public static string InFull(Reading reading, BenchTest test, ShopUnits units)
    {
        ArgumentNullException.ThrowIfNull(reading);
        ArgumentNullException.ThrowIfNull(test);
        var given = test.Fields.Where(f => reading.Value.Has(f.Name)).ToArray();
        return given is [var only] && test.Fields.Count(f => !f.Optional) == 1 && !IsYesOrNo(only)
            ? Value(only, reading.Value.Fields[only.Name], units)
            : string.Join(", ", given.Select(f => $"{f.Label}{(f.Kind == FieldKind.Number ? "" : ":")} {Value(f, reading.Value.Fields[f.Name], units)}"));
    }

    /// <summary>One field's value in words: <c>145 psi</c>, <c>Steady</c>, <c>P0304 P0171</c>; what a null means where it is one.</summary>
    public static string Value(TestField field, FieldValue value, ShopUnits units)
    {
        ArgumentNullException.ThrowIfNull(field);
        ArgumentNullException.ThrowIfNull(value);
        ArgumentNullException.ThrowIfNull(units);
        if (value.Numbers.IsEmpty && value.Texts.IsEmpty)
        {
            return field.NullMeans ?? "nothing";
        }

        return field.Kind switch
        {
            FieldKind.Number => string.Join(" / ", value.Numbers.Select((n, i) => i < value.Numbers.Length - 1 ? units.Figure(field, n) : units.WithUnit(field, n))),
            FieldKind.Cylinder => value.Numbers[0].ToString(CultureInfo.InvariantCulture),
            FieldKind.Choice or FieldKind.Choices => string.Join(", ", value.Texts.Select(t => Label(field, t))),
            FieldKind.Codes => string.Join(" ", value.Texts),
            FieldKind.Text => string.Join(" ", value.Texts),
            _ => throw new InvalidOperationException($"Unknown kind of field {field.Kind}."),
        };
    }

    // "Yes" alone does not say what to.
    private static bool IsYesOrNo(TestField field) => field.Kind == FieldKind.Choice && field.Choices.All(c => c.Id is "yes" or "no");

    /// <summary>The label of a choice, or its id where the knowledge no longer has it.</summary>
    public static string Label(TestField field, string choice)
    {
        ArgumentNullException.ThrowIfNull(field);
        return field.Choices.FirstOrDefault(c => c.Id == choice)?.Label ?? choice;
    }
}
