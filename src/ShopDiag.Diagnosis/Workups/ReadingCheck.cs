using System.Globalization;
using ShopDiag.Diagnosis.BenchTests;
using ShopDiag.Diagnosis.Engines;
using ShopDiag.Diagnosis.Quantities;
using ShopDiag.Diagnosis.Vehicles;

namespace ShopDiag.Diagnosis.Workups;

/// <summary>Checks a reading against its test's field list before it counts.</summary>
public static class ReadingCheck
{
    /// <summary>What makes the reading impossible (a path such as <c>value.kPa</c> and what is allowed), or null.</summary>
    public static InputError? Error(Reading reading, BenchTest test, Engine engine)
    {
        ArgumentNullException.ThrowIfNull(reading);
        ArgumentNullException.ThrowIfNull(test);
        ArgumentNullException.ThrowIfNull(engine);
        if (PlaceError(reading.At, test, engine) is { } place)
        {
            return place;
        }

        return test.Fields.Select(f => FieldError(f, reading, engine)?.Under("value")).FirstOrDefault(e => e is not null);
    }

    /// <summary>What is unlikely about it and asked about once, in plain words, or null. In base units.</summary>
    public static string? Doubt(Reading reading, BenchTest test)
    {
        ArgumentNullException.ThrowIfNull(reading);
        ArgumentNullException.ThrowIfNull(test);
        foreach (var field in test.Fields.Where(f => f.Kind == FieldKind.Number))
        {
            foreach (var number in reading.Value.Numbers(field.Name))
            {
                if (number < field.LikelyMin || number > field.LikelyMax)
                {
                    return $"{field.Label} {Show(number, field)} is unusual: most readings are {Range(field.LikelyMin, field.LikelyMax, field)}. Is it right?";
                }
            }
        }

        return null;
    }

    /// <summary>What is wrong with the trouble codes of a reading, or null; its place and other fields are not looked at.</summary>
    public static InputError? CodesError(Reading reading, BenchTest test)
    {
        ArgumentNullException.ThrowIfNull(reading);
        ArgumentNullException.ThrowIfNull(test);
        return test.Fields.Where(f => f.Kind == FieldKind.Codes).Select(f => CodeError(f, reading.Value)).FirstOrDefault(e => e is not null);
    }

    /// <summary>What is wrong with a place of the test, or null.</summary>
    internal static InputError? PlaceError(Place at, BenchTest test, Engine engine)
    {
        if (!test.Takes(at.Kind))
        {
            return new(FieldOf(test.Scope), $"The test {test.Id} is taken {Where(test)}, not at {at}.");
        }

        return engine.Has(at) ? null : new(FieldOf(test.Scope), at.Kind == PlaceKind.Bank
            ? $"There is no {at}; this engine has {engine.Banks.Length}."
            : $"There is no {at}; this engine has cylinders 1 to {engine.CylinderCount}.");
    }

    private static string FieldOf(TestScope scope) => scope == TestScope.Bank ? "bank" : "cylinder";

    private static string Where(BenchTest test) => string.Join(" or ", test.AlsoScopes.Prepend(test.Scope).Select(s => s switch
    {
        TestScope.Cylinder => "at a cylinder",
        TestScope.Bank => "at a bank",
        TestScope.Engine => "at the engine",
        _ => throw new InvalidOperationException($"Unknown scope {s}."),
    }));

    private static InputError? FieldError(TestField field, Reading reading, Engine engine)
    {
        // An explicit null in an optional field says no more than leaving it out.
        var empty = !reading.Value.Fields.TryGetValue(field.Name, out var given) || (field.Optional && given is { Numbers.IsEmpty: true, Texts.IsEmpty: true });
        if (empty)
        {
            return field.Optional ? null : new(field.Name, $"{field.Label} is missing.");
        }

        return field.Kind switch
        {
            FieldKind.Number => NumberError(field, reading.Value),
            FieldKind.Cylinder => CylinderError(field, reading, engine),
            FieldKind.Choice or FieldKind.Choices => ChoiceError(field, reading.Value),
            FieldKind.Codes => CodeError(field, reading.Value),
            FieldKind.Text => null,
            _ => throw new InvalidOperationException($"Unknown kind of field {field.Kind}."),
        };
    }

    private static InputError? NumberError(TestField field, ReadingValue value)
    {
        var numbers = value.Numbers(field.Name);
        if (numbers.IsEmpty)
        {
            return new(field.Name, $"{field.Label} needs a number.");
        }

        if (numbers.Length > 1 && !field.Several)
        {
            return new(field.Name, $"{field.Label} takes one number, not {numbers.Length}.");
        }

        return numbers.All(n => double.IsFinite(n) && !(n < field.Min) && !(n > field.Max))
            ? null
            : new(field.Name, $"{field.Label} must be {Range(field.Min, field.Max, field)}.");
    }

    private static InputError? CylinderError(TestField field, Reading reading, Engine engine)
    {
        if (reading.Value.Number(field.Name) is not { } number)
        {
            return field.MayBeNull ? null : new(field.Name, $"{field.Label} needs a cylinder number.");
        }

        if (number != Math.Floor(number) || number < 1 || number > engine.CylinderCount)
        {
            return new(field.Name, $"{field.Label} must be a cylinder from 1 to {engine.CylinderCount}.");
        }

        return !field.MayBeNull && reading.At == Place.Cylinder((int)number)
            ? new(field.Name, $"{field.Label} must be another cylinder than the one tested.")
            : null;
    }

    private static InputError? ChoiceError(TestField field, ReadingValue value)
    {
        var texts = value.Texts(field.Name);
        if (texts.IsEmpty && field.MayBeNull)
        {
            return null;
        }

        if (texts.IsEmpty || (texts.Length > 1 && field.Kind == FieldKind.Choice))
        {
            return new(field.Name, $"{field.Label} needs one of: {Words(field)}.");
        }

        return texts.All(t => field.Choices.Any(c => c.Id == t)) ? null : new(field.Name, $"{field.Label} must be one of: {Words(field)}.");
    }

    private static string Words(TestField field) => string.Join(", ", field.Choices.Select(c => c.Id));

    private static InputError? CodeError(TestField field, ReadingValue value) =>
        value.Texts(field.Name).Select(c => TroubleCode.Parse(c).Error).FirstOrDefault(e => e is not null) is { } wrong
            ? wrong with { At = field.Name }
            : null;

    private static string Range(double? min, double? max, TestField field) => (min, max) switch
    {
        ({ } a, { } b) => $"from {Show(a, field)} to {Show(b, field)}",
        ({ } a, null) => $"{Show(a, field)} or more",
        (null, { } b) => $"{Show(b, field)} or less",
        _ => "a number",
    };

    private static string Show(double number, TestField field) =>
        field.Quantity is { } id && Quantity.All.TryGetValue(id, out var quantity)
            ? quantity.Base.Format(number, CultureInfo.InvariantCulture)
            : number.ToString(CultureInfo.InvariantCulture);
}
