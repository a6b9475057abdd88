using System.Globalization;
using ShopDiag.Diagnosis.BenchTests;

namespace ShopDiag.Web.Components.WorkupViews;

/// <summary>
/// One field while it is being entered: its text as typed, and what is to be said about it. The text is never changed by a check.
/// Choices, cylinders and codes are kept as text too, so that one kind of draft serves all.
/// </summary>
public sealed class CellField(TestField field, ShopUnits units)
{
    /// <summary>The text of an explicit "none": the misfire went away, no codes are stored.</summary>
    public const string None = "-";

    private string _text = "";
    private string? _asked;

    /// <summary>The field.</summary>
    public TestField Field { get; } = field;

    /// <summary>The unit beside the number, or empty.</summary>
    public string Symbol { get; } = units.Symbol(field);

    /// <summary>The text as typed. Typing takes back what was said about the text before.</summary>
    public string Text
    {
        get => _text;
        set
        {
            if (_text != value)
            {
                (_text, Refusal, Doubt) = (value, null, null);
            }
        }
    }

    /// <summary>Why the text cannot be a reading, or null.</summary>
    public string? Refusal { get; private set; }

    /// <summary>The question about an unlikely number, or null.</summary>
    public string? Doubt { get; private set; }

    /// <summary>True when nothing has been entered.</summary>
    public bool IsEmpty => string.IsNullOrWhiteSpace(_text);

    /// <summary>Says that the unlikely number is right; it is not asked about again while it stands.</summary>
    public void Keep() => (_asked, Doubt) = (_text, null);

    /// <summary>Puts a refusal of the whole reading beside this field.</summary>
    public void Refuse(string message) => Refusal = message;

    /// <summary>
    /// Reads the text. Null and a <see cref="Refusal"/> for what cannot be; null and a <see cref="Doubt"/> for what is unlikely, once;
    /// null alone for an empty field that may be empty.
    /// </summary>
    public FieldValue? Read()
    {
        (Refusal, Doubt) = (null, null);
        if (IsEmpty)
        {
            Refusal = Field.Optional ? null : $"{Field.Label} is missing.";
            return null;
        }

        return Field.Kind switch
        {
            FieldKind.Number => ReadNumber(),
            FieldKind.Cylinder => _text == None ? FieldValue.Null : ReadCylinder(),
            FieldKind.Codes => _text == None ? FieldValue.Null : FieldValue.Of(Codes(_text)),
            FieldKind.Choices => _text == None ? FieldValue.Null : FieldValue.Of(Chosen(_text)),
            FieldKind.Choice => FieldValue.Of(_text),
            FieldKind.Text => FieldValue.Of(_text.Trim()),
            _ => throw new InvalidOperationException($"Unknown kind of field {Field.Kind}."),
        };
    }

    /// <summary>Puts a value into the field as it would have been typed: to begin a correction, or to carry a setting over to the next place.</summary>
    public static string TextOf(FieldValue value, TestField field, ShopUnits units)
    {
        ArgumentNullException.ThrowIfNull(value);
        ArgumentNullException.ThrowIfNull(field);
        ArgumentNullException.ThrowIfNull(units);
        return field.Kind switch
        {
            _ when value.Numbers.IsEmpty && value.Texts.IsEmpty => None,
            FieldKind.Number => Plain(units.For(field) is { } unit ? unit.Show(value.Numbers[0]) : value.Numbers[0]),
            FieldKind.Cylinder => Plain(value.Numbers[0]),
            FieldKind.Codes => string.Join(" ", value.Texts),
            FieldKind.Choices => string.Join(",", value.Texts),
            FieldKind.Choice or FieldKind.Text => value.Texts[0],
            _ => throw new InvalidOperationException($"Unknown kind of field {field.Kind}."),
        };
    }

    private FieldValue? ReadNumber()
    {
        if (ParseNumber(_text) is not { } typed)
        {
            Refusal = $"{Field.Label} must be a number.";
            return null;
        }

        var unit = units.For(Field);
        var inBase = unit?.Read(typed) ?? typed;
        if (Outside(inBase, Field.Min, Field.Max))
        {
            Refusal = $"{Field.Label} must be {Range(Field.Min, Field.Max)}. Nothing is saved yet.";
            return null;
        }

        if (Outside(inBase, Field.LikelyMin, Field.LikelyMax) && _asked != _text)
        {
            _asked = _text;
            Doubt = $"{_text.Trim()} {Symbol}".TrimEnd() + $" is unusual: most readings are {Range(Field.LikelyMin, Field.LikelyMax)}. Is it right?";
            return null;
        }

        return FieldValue.Of(inBase);
    }

    private FieldValue? ReadCylinder()
    {
        if (int.TryParse(_text, NumberStyles.None, CultureInfo.InvariantCulture, out var cylinder))
        {
            return FieldValue.Of(cylinder);
        }

        Refusal = $"{Field.Label} must be a cylinder.";
        return null;
    }

    // Gloves and habits: a comma is as good as a point, blanks do not count, a typeset minus is a minus.
    private static double? ParseNumber(string text)
    {
        var plain = text.Replace(" ", "", StringComparison.Ordinal).Replace('−', '-').Replace(',', '.');
        return double.TryParse(plain, NumberStyles.AllowLeadingSign | NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out var number)
            && double.IsFinite(number) ? number : null;
    }

    private static string[] Codes(string text) =>
        [.. text.ToUpperInvariant().Split([' ', ',', ';', '\n', '\t'], StringSplitOptions.RemoveEmptyEntries).Distinct()];

    // "None" beside a condition is left over from before the condition was touched.
    private static string[] Chosen(string text) => [.. text.Split(',', StringSplitOptions.RemoveEmptyEntries).Where(t => t != None).Distinct()];

    private static bool Outside(double number, double? min, double? max) => number < min || number > max;

    private string Range(double? min, double? max) => (min, max) switch
    {
        ({ } a, { } b) => $"from {units.Figure(Field, a)} to {units.WithUnit(Field, b)}",
        ({ } a, null) => $"{units.WithUnit(Field, a)} or more",
        (null, { } b) => $"{units.WithUnit(Field, b)} or less",
        _ => "a number",
    };

    private static string Plain(double number) =>
        Math.Round(number, 6, MidpointRounding.AwayFromZero).ToString("0.######", CultureInfo.InvariantCulture);
}
