using System.Collections.Immutable;

namespace ShopDiag.Diagnosis.BenchTests;

/// <summary>Before or after the repair.</summary>
public enum Stage
{
    /// <summary>Taken while looking for the cause.</summary>
    Before,

    /// <summary>Taken to prove the repair.</summary>
    After,
}

/// <summary>One reading of one bench test at one place, as it was taken. Never edited: a correction supersedes it.</summary>
public sealed record Reading
{
    /// <summary>The test's id, such as <c>compression-dry</c>.</summary>
    public required string Test { get; init; }

    /// <summary>Where it was taken.</summary>
    public required Place At { get; init; }

    /// <summary>What was read.</summary>
    public required ReadingValue Value { get; init; }

    /// <summary>Before (the default) or after the repair.</summary>
    public Stage Stage { get; init; }

    /// <summary>Engine warm, cold, or not said.</summary>
    public bool? Warm { get; init; }

    /// <summary>When it was taken, if said. Never used by the reasoning.</summary>
    public DateTimeOffset? TakenAt { get; init; }

    /// <summary>Who took it, if said.</summary>
    public string? By { get; init; }

    /// <summary>Free words of the technician.</summary>
    public string? Note { get; init; }

    /// <summary>The index in the workup of the reading that this one corrects, or null.</summary>
    public int? Supersedes { get; init; }
}

/// <summary>
/// The values of a reading by field name. Nested fields of the wire format carry a dotted name
/// (<c>idle.shortPercent</c>). Checked against the test's field list before it is made.
/// </summary>
public sealed class ReadingValue
{
    private readonly ImmutableSortedDictionary<string, FieldValue> _fields;

    /// <summary>Wraps the fields.</summary>
    public ReadingValue(IEnumerable<KeyValuePair<string, FieldValue>> fields) =>
        _fields = fields.ToImmutableSortedDictionary(StringComparer.Ordinal);

    /// <summary>All fields by name, in ordinal order.</summary>
    public ImmutableSortedDictionary<string, FieldValue> Fields => _fields;

    /// <summary>The number in a field, or null when the field is absent or empty.</summary>
    public double? Number(string field) => Numbers(field) is [var first, ..] ? first : null;

    /// <summary>All numbers in a field (trials); empty when absent.</summary>
    public ImmutableArray<double> Numbers(string field) =>
        _fields.TryGetValue(field, out var value) ? value.Numbers : [];

    /// <summary>The text or choice in a field, or null when absent.</summary>
    public string? Text(string field) => Texts(field) is [var first, ..] ? first : null;

    /// <summary>All texts in a field (codes, conditions); empty when absent.</summary>
    public ImmutableArray<string> Texts(string field) =>
        _fields.TryGetValue(field, out var value) ? value.Texts : [];

    /// <summary>True when the field was given, even as an explicit null.</summary>
    public bool Has(string field) => _fields.ContainsKey(field);
}

/// <summary>One field's value: numbers or texts, one or several; both empty means an explicit null (misfireMovedTo: it went away).</summary>
public sealed record FieldValue
{
    /// <summary>The numbers, for a number field.</summary>
    public ImmutableArray<double> Numbers { get; init; } = [];

    /// <summary>The texts, for a choice, text, code or condition field. Booleans travel as <c>yes</c> and <c>no</c>.</summary>
    public ImmutableArray<string> Texts { get; init; } = [];

    /// <summary>An explicit null.</summary>
    public static FieldValue Null { get; } = new();

    /// <summary>One or more numbers.</summary>
    public static FieldValue Of(params double[] numbers) => new() { Numbers = [.. numbers] };

    /// <summary>One or more texts.</summary>
    public static FieldValue Of(params string[] texts) => new() { Texts = [.. texts] };
}
