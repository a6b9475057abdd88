using ShopDiag.Diagnosis.BenchTests;

namespace ShopDiag.VirtualCars.Cars.Garage;

/// <summary>The values of one reading as they are written down, by field name.</summary>
internal sealed class Values
{
    private readonly Dictionary<string, FieldValue> _fields = new(StringComparer.Ordinal);

    /// <summary>Writes a number as its instrument shows it.</summary>
    public Values Number(string field, double number, int decimals = 0)
    {
        _fields[field] = FieldValue.Of(Math.Round(number, decimals, MidpointRounding.AwayFromZero));
        return this;
    }

    /// <summary>Writes several trials.</summary>
    public Values Numbers(string field, IEnumerable<double> numbers)
    {
        _fields[field] = FieldValue.Of([.. numbers.Select(n => Math.Round(n, MidpointRounding.AwayFromZero))]);
        return this;
    }

    /// <summary>Writes a cylinder's number, or that there is none.</summary>
    public Values Cylinder(string field, int? cylinder)
    {
        _fields[field] = cylinder is { } c ? FieldValue.Of((double)c) : FieldValue.Null;
        return this;
    }

    /// <summary>Writes words; none is an explicit null.</summary>
    public Values Words(string field, params string[] words)
    {
        _fields[field] = words.Length == 0 ? FieldValue.Null : FieldValue.Of(words);
        return this;
    }

    /// <summary>Writes yes or no.</summary>
    public Values YesNo(string field, bool yes) => Words(field, yes ? "yes" : "no");

    /// <summary>
    /// What the test asks for of it, no number outside what its field can hold: an instrument stops at the end of its scale.
    /// Fails when a word is none of the field's, which would be an error of this garage.
    /// </summary>
    public ReadingValue For(BenchTest test) => new(test.Fields
        .Where(f => _fields.ContainsKey(f.Name))
        .Select(f => KeyValuePair.Create(f.Name, Fit(f, _fields[f.Name]))));

    private static FieldValue Fit(TestField field, FieldValue value)
    {
        if (field.Kind is FieldKind.Choice or FieldKind.Choices && value.Texts.FirstOrDefault(t => field.Choices.All(c => c.Id != t)) is { } stranger)
        {
            throw new InvalidOperationException($"'{stranger}' is no word of the field '{field.Name}'.");
        }

        return field.Kind == FieldKind.Number
            ? value with { Numbers = [.. value.Numbers.Select(n => Math.Clamp(n, field.Min ?? n, field.Max ?? n))] }
            : value;
    }
}
