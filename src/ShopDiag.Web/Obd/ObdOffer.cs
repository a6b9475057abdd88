using System.Collections.Immutable;
using ShopDiag.Diagnosis.BenchTests;

namespace ShopDiag.Web.Obd;

/// <summary>Something that a log would enter into an order once a person confirms it.</summary>
/// <param name="Key">Tells it from the other offers of the same log.</param>
/// <param name="Title">What it is.</param>
/// <param name="Words">What would be entered, in words, one line each.</param>
/// <param name="Readings">The readings; empty for an offer that is no reading.</param>
public sealed record ObdOffer(string Key, string Title, ImmutableArray<string> Words, ImmutableArray<Reading> Readings)
{
    /// <summary>The VIN to enter, or null.</summary>
    public string? Vin { get; init; }

    /// <summary>True when the readings still lack the revolutions over which misfires were counted; <see cref="WithRevolutions"/> puts them in.</summary>
    public bool NeedsRevolutions { get; init; }

    /// <summary>What a person should know before confirming; empty when there is nothing.</summary>
    public string Caution { get; init; } = "";

    /// <summary>True when the box is ticked to begin with.</summary>
    public bool Proposed { get; init; } = true;

    /// <summary>The offer with the revolutions that misfires were counted over.</summary>
    public ObdOffer WithRevolutions(double revolutions) => this with
    {
        NeedsRevolutions = false,
        Readings = [.. Readings.Select(r => r with { Value = new([.. r.Value.Fields, KeyValuePair.Create("revolutions", FieldValue.Of(revolutions))]) })],
    };
}
