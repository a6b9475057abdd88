using ShopDiag.Diagnosis.Vehicles;

namespace ShopDiag.Obd.Codes;

/// <summary>What a code says by its structure alone: system, whose it is, and the area (SAE J2012 / ISO 15031-6, from memory).</summary>
public static class CodeStructure
{
    /// <summary>The system that the first letter names.</summary>
    public static string System(TroubleCode code)
    {
        ArgumentNullException.ThrowIfNull(code);
        return code.Text[0] switch
        {
            'P' => "Powertrain",
            'C' => "Chassis",
            'B' => "Body",
            'U' => "Network",
            var letter => throw new InvalidOperationException($"Unknown letter {letter}."),
        };
    }

    /// <summary>True for the codes that each maker defines: P1, P30 to P33, C1, C2, B1, B2, U1 and U2.</summary>
    public static bool IsMakers(TroubleCode code)
    {
        ArgumentNullException.ThrowIfNull(code);
        return code.Text switch
        {
            ['P', '1', ..] or ['P', '3', >= '0' and <= '3', ..] => true,
            ['C' or 'B' or 'U', '1' or '2', ..] => true,
            _ => false,
        };
    }

    /// <summary>The area of a powertrain code, in plain words; null where the structure names none.</summary>
    public static string? Area(TroubleCode code)
    {
        ArgumentNullException.ThrowIfNull(code);
        return code.Text switch
        {
            ['P', '0' or '1', '0', ..] => "fuel, air and emission control",
            ['P', '0' or '1', '1', ..] => "fuel and air",
            ['P', '0' or '1', '2', ..] => "fuel injectors and fuel supply",
            ['P', '0' or '1', '3', ..] => "ignition or misfire",
            ['P', '0' or '1', '4', ..] => "emission control",
            ['P', '0' or '1', '5', ..] => "vehicle speed, idle and auxiliary inputs",
            ['P', '0' or '1', '6', ..] => "computer and its outputs",
            ['P', '0' or '1', '7' or '8' or '9', ..] => "transmission",
            ['P', '0', 'A' or 'B' or 'C' or 'D', ..] => "hybrid or electric drive",
            ['P', '2', '0' or '1' or '2', ..] => "fuel, air and emission control",
            ['P', '2', '3', ..] => "ignition or misfire",
            ['P', '2', '4', ..] => "emission control",
            ['P', '2', '5', ..] => "auxiliary inputs",
            ['P', '2', '6', ..] => "computer and its outputs",
            ['P', '2', '7', ..] => "transmission",
            ['P', '3', '4', ..] => "cylinders switched off, valves",
            _ => null,
        };
    }

    /// <summary>One short sentence.</summary>
    internal static string Describe(TroubleCode code) =>
        $"{System(code)}{(Area(code) is { } area ? $", {area}" : "")}: {(IsMakers(code) ? "the maker's own code, see the maker's list" : "a general code that is not in this program's list")}";
}
