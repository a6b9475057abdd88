using System.Collections.Immutable;
using System.Globalization;
using ShopDiag.Diagnosis.Engines;

namespace ShopDiag.Diagnosis.Vehicles;

/// <summary>Which way a mixture is off.</summary>
public enum Mixture
{
    /// <summary>Too little fuel for the air.</summary>
    Lean,

    /// <summary>Too much fuel for the air.</summary>
    Rich,
}

/// <summary>
/// A diagnostic trouble code of SAE J2012 / ISO 15031-6: <c>P0304</c>. A letter of P, C, B or U, a digit from 0 to 3 and three
/// hexadecimal digits, upper case. Cylinder and coil numbers in codes are written in decimal: P0312 is cylinder 12 and P030C is not.
/// </summary>
public sealed record TroubleCode
{
    private TroubleCode(string text) => Text = text;

    /// <summary>The code, five characters in upper case.</summary>
    public string Text { get; }

    /// <summary>True for P0300: misfire of random or several cylinders.</summary>
    public bool IsRandomMisfire => Text == "P0300";

    /// <summary>The cylinder of a misfire code (P0301 to P0312), or null.</summary>
    public int? MisfireCylinder => NumberFrom("P0301", 12);

    /// <summary>
    /// The coil of an ignition coil circuit code, A = 1 to L = 12: P0351 to P0362, and three codes a coil from P2300 on; null otherwise.
    /// </summary>
    public int? Coil => NumberFrom("P0351", 12) ?? NumberFrom("P2300", 12, codesEach: 3);

    /// <summary>The cylinder of an injector circuit or contribution code: P0201 to P0212, and three codes a cylinder from P0261 on; null otherwise.</summary>
    public int? InjectorCylinder => NumberFrom("P0201", 12) ?? NumberFrom("P0261", 12, codesEach: 3);

    /// <summary>The bank, 1 or 2 as codes count them, and the way its mixture is off, or null.</summary>
    public (int Bank, Mixture Mixture)? BankMixture => Text switch
    {
        "P0171" or "P2187" or "P2191" => (1, Mixture.Lean),
        "P0172" or "P2188" or "P2192" => (1, Mixture.Rich),
        "P0174" or "P2189" or "P2193" => (2, Mixture.Lean),
        "P0175" or "P2190" or "P2194" => (2, Mixture.Rich),
        _ => null,
    };

    /// <summary>
    /// The part of the engine's systems that the code names, as the aspect of the codes test that it speaks in; null for other codes. P0068: pressure or air mass
    /// does not fit the throttle, from memory.
    /// </summary>
    public string? SystemAspect => Text switch
    {
        "P0068" or ['P', '0', '1', '0', >= '0' and <= '9'] => "codes-airflow",
        "P0087" or "P0089" => "codes-fuel-pressure",
        "P0400" or "P0402" => "codes-egr",
        "P0315" or "P0335" or "P0336" or "P0339" => "codes-crank",
        "P0560" or "P0562" => "codes-voltage",
        _ => null,
    };

    /// <summary>
    /// The bank, 1 or 2 as codes count them, whose cam does not stand to the crank as it should: correlation, a cam too far advanced or retarded, or a cam
    /// signal that does not fit; null for other codes.
    /// </summary>
    public int? CamBank => Text switch
    {
        "P0016" or "P0017" or "P0011" or "P0012" or "P0014" or "P0015" or "P0341" => 1,
        "P0018" or "P0019" or "P0021" or "P0022" or "P0024" or "P0025" or "P0346" => 2,
        _ => null,
    };

    /// <summary>What the code means, in short words of our own; null where it is not in the list.</summary>
    public string? Words => TroubleCodeWords.For(this);

    /// <summary>Reads a code as typed: blanks are dropped and lower case is raised.</summary>
    public static Parsed<TroubleCode> Parse(string? text)
    {
        var code = string.Concat((text ?? "").Where(c => !char.IsWhiteSpace(c))).ToUpperInvariant();
        return code is ['P' or 'C' or 'B' or 'U', >= '0' and <= '3', _, _, _] && code[2..].All(char.IsAsciiHexDigitUpper)
            ? new TroubleCode(code)
            : new InputError("", $"'{text}' is no trouble code. A code is P, C, B or U, a digit from 0 to 3 and three more (0 to 9, A to F), such as P0304.");
    }

    /// <summary>
    /// The cylinders of the coil that the code names on an engine. One coil a cylinder: the cylinder of that number. Shared coils:
    /// the pair in order of its lower cylinder, which makers do not all keep to. None for other codes, for coils that the
    /// engine lacks and for a distributor, whose one coil serves all.
    /// </summary>
    public ImmutableArray<int> CoilCylinders(Engine engine)
    {
        ArgumentNullException.ThrowIfNull(engine);
        return (Coil, engine.Ignition) switch
        {
            ({ } coil, Ignition.CoilOnPlug or Ignition.CoilNearPlug) when coil <= engine.CylinderCount => [coil],
            ({ } coil, Ignition.WasteSpark) when coil <= engine.CompanionPairs.Length => [.. engine.CylindersAt(engine.CompanionPairs[coil - 1])],
            _ => [],
        };
    }

    /// <inheritdoc/>
    public override string ToString() => Text;

    /// <summary>The letter of coil 1, 2 ...: A, B ...</summary>
    internal static char CoilLetter(int coil) => (char)('A' + coil - 1);

    /// <summary>The one-based number that a code stands for in a run of decimal codes, or null outside of it.</summary>
    internal int? NumberFrom(string first, int count, int codesEach = 1)
    {
        if (Text[0] != first[0] || !int.TryParse(Text.AsSpan(1), NumberStyles.None, CultureInfo.InvariantCulture, out var number))
        {
            return null;
        }

        var offset = number - int.Parse(first.AsSpan(1), CultureInfo.InvariantCulture);
        return offset >= 0 && offset < count * codesEach ? (offset / codesEach) + 1 : null;
    }
}
