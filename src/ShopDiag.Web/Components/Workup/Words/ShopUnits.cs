using System.Collections.Immutable;
using System.Globalization;
using ShopDiag.Diagnosis.BenchTests;
using ShopDiag.Diagnosis.Quantities;
using ShopDiag.Storage.Shop;

namespace ShopDiag.Web.Components.WorkupViews;

/// <summary>The units of this shop: what a number is shown and typed in. Values are kept in the base unit.</summary>
/// <param name="System"><c>metric</c> or <c>us</c>.</param>
/// <param name="Own">Units that differ from the system's, by quantity.</param>
public sealed record ShopUnits(string System, ImmutableDictionary<string, string> Own)
{
    /// <summary>The units that a shop set.</summary>
    public static ShopUnits Of(ShopSettings settings)
    {
        ArgumentNullException.ThrowIfNull(settings);
        return new(settings.UnitSystem, settings.Units);
    }

    /// <summary>The unit of a number field, or null where it has none (a plain count).</summary>
    public ShopUnit? For(TestField field)
    {
        ArgumentNullException.ThrowIfNull(field);
        return field.Quantity is { } id && Quantity.All.TryGetValue(id, out var quantity) ? quantity.For(System, Own) : null;
    }

    /// <summary>The symbol beside the number, or empty.</summary>
    public string Symbol(TestField field) => For(field)?.Symbol ?? "";

    /// <summary>A base-unit number as it stands in a cell: rounded as the unit's instruments are read, without the symbol.</summary>
    public string Figure(TestField field, double inBase)
    {
        var unit = For(field);
        var decimals = unit?.Decimals ?? 2;
        var shown = Math.Round(unit?.Show(inBase) ?? inBase, decimals, MidpointRounding.AwayFromZero);
        return (shown == 0 ? 0 : shown).ToString("#,0." + new string('#', decimals), CultureInfo.InvariantCulture).Replace('-', '−');
    }

    /// <summary>A base-unit number with its symbol: <c>145 psi</c>.</summary>
    public string WithUnit(TestField field, double inBase)
    {
        var symbol = Symbol(field);
        return symbol.Length == 0 ? Figure(field, inBase) : $"{Figure(field, inBase)} {symbol}";
    }
}
