using System.Collections.Immutable;
using System.Globalization;
using ShopDiag.Diagnosis;
using ShopDiag.Diagnosis.BenchTests;

namespace ShopDiag.VirtualCars.Cars.Garage;

/// <summary>A slip of pen or eye: one field of a reading comes out wrong and still looks like a reading.</summary>
internal static class PenSlip
{
    /// <summary>The reading's value with one field wrong.</summary>
    public static ReadingValue Wrong(ReadingValue value, BenchTest test, Place at, Dice dice)
    {
        var fields = test.Fields.Where(f => !f.SameForRound && f.Kind != FieldKind.Text && value.Has(f.Name) && f.Name != "swappedWith").ToList();
        if (fields.Count == 0)
        {
            return value;
        }

        var field = dice.OneOf(fields);
        return new ReadingValue(value.Fields.SetItem(field.Name, Wrong(value.Fields[field.Name], field, value, at, dice)));
    }

    private static FieldValue Wrong(FieldValue right, TestField field, ReadingValue value, Place at, Dice dice) => field.Kind switch
    {
        FieldKind.Number => right with { Numbers = [.. right.Numbers.Select(n => Math.Clamp(WrongNumber(n, dice), field.Min ?? 0, field.Max ?? 1e9))] },
        FieldKind.Choice => FieldValue.Of(dice.OneOf(field.Choices).Id),
        FieldKind.Choices or FieldKind.Codes => right.Texts.Length < 2 ? right : right with { Texts = right.Texts.RemoveAt(dice.Whole(0, right.Texts.Length - 1)) },
        FieldKind.Cylinder => FieldValue.Of(dice.Chance(0.5) || value.Number("swappedWith") is not { } other ? at.First : other),
        _ => right,
    };

    // Two digits changed about, or a needle read on the wrong division.
    private static double WrongNumber(double number, Dice dice)
    {
        var digits = Math.Floor(Math.Abs(number)).ToString(CultureInfo.InvariantCulture).ToImmutableArray();
        if (digits.Length < 2 || dice.Chance(0.5))
        {
            return Math.Round(number * (dice.Chance(0.5) ? 0.8 : 1.2), 2, MidpointRounding.AwayFromZero);
        }

        var i = dice.Whole(0, digits.Length - 2);
        var turned = digits.SetItem(i, digits[i + 1]).SetItem(i + 1, digits[i]);
        return double.Parse(string.Concat(turned), CultureInfo.InvariantCulture);
    }
}
