using System.Collections.Frozen;

namespace ShopDiag.Diagnosis.Vehicles;

/// <summary>
/// Short words for the codes that matter to a misfire. Numbers after SAE J2012 (DEC 2007) and ISO 15031-6:2005, from memory and
/// in part confirmed in makers' tables; the words are our own.
/// </summary>
internal static class TroubleCodeWords
{
    private static readonly string[] InjectorKinds = ["circuit low", "circuit high", "contribution or balance"];
    private static readonly string[] CoilKinds = ["primary circuit low", "primary circuit high", "secondary circuit"];

    private static readonly FrozenDictionary<string, string> Single = new Dictionary<string, string>
    {
        ["P0300"] = "Misfire of random or several cylinders",
        ["P0313"] = "Misfire with the fuel low",
        ["P0314"] = "Misfire of one cylinder, not said which",
        ["P0315"] = "Crankshaft's tooth pattern not learned",
        ["P0316"] = "Misfire within 1000 revolutions of starting",
        ["P0200"] = "Injector circuit",
        ["P0350"] = "Ignition coil circuit",
        ["P0170"] = "Fuel trim, bank 1",
        ["P0173"] = "Fuel trim, bank 2",
        ["P0171"] = "Too lean, bank 1",
        ["P0174"] = "Too lean, bank 2",
        ["P0172"] = "Too rich, bank 1",
        ["P0175"] = "Too rich, bank 2",
        ["P2187"] = "Too lean at idle, bank 1",
        ["P2188"] = "Too rich at idle, bank 1",
        ["P2189"] = "Too lean at idle, bank 2",
        ["P2190"] = "Too rich at idle, bank 2",
        ["P2191"] = "Too lean under load, bank 1",
        ["P2192"] = "Too rich under load, bank 1",
        ["P2193"] = "Too lean under load, bank 2",
        ["P2194"] = "Too rich under load, bank 2",
        ["P0068"] = "Manifold pressure or air mass does not fit the throttle",
        ["P0087"] = "Fuel rail pressure too low",
        ["P0088"] = "Fuel rail pressure too high",
        ["P0089"] = "Fuel pressure regulator does not hold its value",
        ["P0010"] = "Cam actuator A circuit, bank 1",
        ["P0013"] = "Cam actuator B circuit, bank 1",
        ["P0020"] = "Cam actuator A circuit, bank 2",
        ["P0023"] = "Cam actuator B circuit, bank 2",
        ["P0011"] = "Cam A too far advanced, bank 1",
        ["P0012"] = "Cam A too far retarded, bank 1",
        ["P0014"] = "Cam B too far advanced, bank 1",
        ["P0015"] = "Cam B too far retarded, bank 1",
        ["P0021"] = "Cam A too far advanced, bank 2",
        ["P0022"] = "Cam A too far retarded, bank 2",
        ["P0024"] = "Cam B too far advanced, bank 2",
        ["P0025"] = "Cam B too far retarded, bank 2",
        ["P0016"] = "Crank and cam A do not agree, bank 1",
        ["P0017"] = "Crank and cam B do not agree, bank 1",
        ["P0018"] = "Crank and cam A do not agree, bank 2",
        ["P0019"] = "Crank and cam B do not agree, bank 2",
        ["P0335"] = "Crank sensor circuit",
        ["P0336"] = "Crank sensor signal out of range",
        ["P0339"] = "Crank sensor signal comes and goes",
        ["P0400"] = "EGR flow",
        ["P0401"] = "EGR flow too small",
        ["P0402"] = "EGR flow too great",
        ["P0420"] = "Catalyst not efficient enough, bank 1",
        ["P0430"] = "Catalyst not efficient enough, bank 2",
        ["P0505"] = "Idle control",
        ["P0506"] = "Idle speed too low",
        ["P0507"] = "Idle speed too high",
        ["P0560"] = "System voltage",
        ["P0562"] = "System voltage low",
        ["P0563"] = "System voltage high",
        ["P0217"] = "Engine too hot",
        ["P0219"] = "Engine over-speed",
        ["P0606"] = "Engine computer's processor",
    }.ToFrozenDictionary(StringComparer.Ordinal);

    /// <summary>Runs of codes about one thing: first code, how many, words.</summary>
    private static readonly (string First, int Count, string Words)[] Runs =
    [
        ("P0100", 5, "Air-mass signal"),
        ("P0105", 5, "Manifold pressure signal"),
        ("P0110", 5, "Intake air temperature signal"),
        ("P0115", 5, "Coolant temperature signal"),
        ("P0120", 5, "Throttle position signal"),
        ("P0190", 5, "Fuel rail pressure signal"),
        ("P0325", 10, "Knock sensor"),
        ("P0340", 5, "Cam sensor A, bank 1"),
        ("P0345", 5, "Cam sensor A, bank 2"),
        ("P0440", 18, "Fuel vapour system"),
    ];

    public static string? For(TroubleCode code) => Single.GetValueOrDefault(code.Text)
        ?? Numbered(code)
        ?? Runs.Where(r => code.NumberFrom(r.First, r.Count) is not null).Select(r => r.Words).FirstOrDefault()
        ?? (IsMakers(code) ? "Maker's own code: see the maker's list" : null);

    private static string? Numbered(TroubleCode code) => code switch
    {
        { MisfireCylinder: { } n } => $"Misfire of cylinder {n}",
        { InjectorCylinder: { } n } => code.NumberFrom("P0261", 36) is { } low
            ? $"Injector of cylinder {n}, {InjectorKinds[(low - 1) % 3]}"
            : $"Injector of cylinder {n}, circuit",
        { Coil: { } n } => code.NumberFrom("P2300", 36) is { } primary
            ? $"Ignition coil {TroubleCode.CoilLetter(n)}, {CoilKinds[(primary - 1) % 3]}"
            : $"Ignition coil {TroubleCode.CoilLetter(n)}, primary or secondary circuit",
        _ => null,
    };

    /// <summary>P1 and P30 to P33 belong to the makers, as do C1, C2, B1, B2, U1 and U2 (from memory).</summary>
    private static bool IsMakers(TroubleCode code) => code.Text switch
    {
        ['P', '1', ..] => true,
        ['P', '3', >= '0' and <= '3', ..] => true,
        ['C' or 'B' or 'U', '1' or '2', ..] => true,
        _ => false,
    };
}
