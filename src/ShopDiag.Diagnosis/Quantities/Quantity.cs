using System.Collections.Immutable;
using System.Globalization;
using UnitsNet;
using UnitsNet.Units;

namespace ShopDiag.Diagnosis.Quantities;

/// <summary>A unit a quantity can be shown in.</summary>
/// <param name="Id">Stable id, such as <c>psi</c>.</param>
/// <param name="Symbol">As written beside a number.</param>
/// <param name="Decimals">Decimals that make sense on a workshop instrument.</param>
public sealed record ShopUnit(string Id, string Symbol, int Decimals)
{
    /// <summary>From the base unit to this one.</summary>
    public required Func<double, double> FromBase { get; init; }

    /// <summary>From this unit to the base unit.</summary>
    public required Func<double, double> ToBase { get; init; }

    /// <summary>A number in the quantity's base unit, in this unit.</summary>
    public double Show(double inBase) => FromBase(inBase);

    /// <summary>A number in this unit, in the quantity's base unit.</summary>
    public double Read(double inThis) => ToBase(inThis);

    /// <summary>A number in the base unit as text in this unit with its symbol.</summary>
    public string Format(double inBase, IFormatProvider? culture = null)
    {
        var number = Math.Round(Show(inBase), Decimals, MidpointRounding.AwayFromZero).ToString("0." + new string('#', Decimals), culture ?? CultureInfo.InvariantCulture);
        return Symbol.Length == 0 ? number : Symbol == "%" ? number + " %" : $"{number} {Symbol}";
    }
}

/// <summary>A physical quantity that fields and limits speak in, with the units a shop may choose. Conversions by UnitsNet.</summary>
/// <param name="Id">Stable id, such as <c>gauge-pressure</c>.</param>
/// <param name="Units">The units; the first is the base unit that values are kept in.</param>
/// <param name="UsUnit">Id of the unit in the US system.</param>
public sealed record Quantity(string Id, ImmutableArray<ShopUnit> Units, string UsUnit)
{
    /// <summary>Every quantity by id.</summary>
    public static ImmutableDictionary<string, Quantity> All { get; } = new Quantity[]
    {
        new("gauge-pressure", [Pressures(PressureUnit.Kilopascal, "kPa", 0), Pressures(PressureUnit.PoundForcePerSquareInch, "psi", 0), Pressures(PressureUnit.Bar, "bar", 1)], "psi"),
        new("low-pressure", [Pressures(PressureUnit.Kilopascal, "kPa", 1), Pressures(PressureUnit.PoundForcePerSquareInch, "psi", 2), Pressures(PressureUnit.Millibar, "mbar", 0)], "psi"),
        new("vacuum", [Pressures(PressureUnit.Kilopascal, "kPa", 0), Pressures(PressureUnit.InchOfMercury, "inHg", 1)], "inHg"),
        new("voltage", [Plain("V", 1)], "V"),
        new("small-voltage", [Plain("V", 2)], "V"),
        new("resistance", [Plain("ohm", "Ω", 2)], "ohm"),
        new("large-resistance", [Plain("ohm", "Ω", 0)], "ohm"),
        new("length", [Lengths(LengthUnit.Millimeter, "mm", 2), Lengths(LengthUnit.Inch, "in", 3)], "in"),
        new("altitude", [Lengths(LengthUnit.Meter, "m", 0), Lengths(LengthUnit.Foot, "ft", 0)], "ft"),
        new("distance", [Plain("km", 0), new("mi", "mi", 0) { FromBase = v => Length.FromKilometers(v).Miles, ToBase = v => Length.FromMiles(v).Kilometers }], "mi"),
        new("temperature", [Temperatures(TemperatureUnit.DegreeCelsius, "C", "°C"), Temperatures(TemperatureUnit.DegreeFahrenheit, "F", "°F")], "F"),
        new("percent", [Plain("percent", "%", 1)], "percent"),
        new("engine-speed", [Plain("rpm", 0)], "rpm"),
        new("revolutions", [Plain("rev", 0)], "rev"),
        new("air-flow", [Plain("g/s", "g/s", 1)], "g/s"),
        new("displacement", [Plain("L", "L", 2)], "L"),
        new("count", [Plain("count", "", 0)], "count"),
        new("ratio", [Plain("ratio", "", 2)], "ratio"),
        new("minutes", [Plain("min", 0)], "min"),
    }.ToImmutableDictionary(q => q.Id, StringComparer.Ordinal);

    /// <summary>The base unit: values are kept and travel in it.</summary>
    public ShopUnit Base => Units[0];

    /// <summary>The unit of a system (<c>us</c> or anything else for metric), unless the shop chose another for this quantity.</summary>
    public ShopUnit For(string system, IReadOnlyDictionary<string, string>? own = null)
    {
        var id = own is not null && own.TryGetValue(Id, out var chosen) ? chosen : system == "us" ? UsUnit : Base.Id;
        return Units.FirstOrDefault(u => u.Id == id) ?? Base;
    }

    private static ShopUnit Plain(string id, int decimals) => Plain(id, id, decimals);

    private static ShopUnit Plain(string id, string symbol, int decimals) =>
        new(id, symbol, decimals) { FromBase = v => v, ToBase = v => v };

    private static ShopUnit Pressures(PressureUnit unit, string id, int decimals) => new(id, id, decimals)
    {
        FromBase = v => Pressure.FromKilopascals(v).As(unit), ToBase = v => Pressure.From(v, unit).Kilopascals,
    };

    private static ShopUnit Lengths(LengthUnit unit, string id, int decimals) => unit is LengthUnit.Meter or LengthUnit.Foot
        ? new(id, id, decimals) { FromBase = v => Length.FromMeters(v).As(unit), ToBase = v => Length.From(v, unit).Meters }
        : new(id, id, decimals) { FromBase = v => Length.FromMillimeters(v).As(unit), ToBase = v => Length.From(v, unit).Millimeters };

    private static ShopUnit Temperatures(TemperatureUnit unit, string id, string symbol) => new(id, symbol, 0)
    {
        FromBase = v => Temperature.FromDegreesCelsius(v).As(unit), ToBase = v => Temperature.From(v, unit).DegreesCelsius,
    };
}
