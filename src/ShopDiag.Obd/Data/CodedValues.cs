using System.Globalization;
using System.Numerics;

namespace ShopDiag.Obd.Data;

/// <summary>Words for values that are codes (SAE J1979, from memory).</summary>
internal static class CodedValues
{
    private static readonly string[] Fuels =
    [
        "not given", "gasoline", "methanol", "ethanol", "diesel", "LPG", "CNG", "propane", "electric",
        "two fuels, on gasoline", "two fuels, on methanol", "two fuels, on ethanol", "two fuels, on LPG", "two fuels, on CNG", "two fuels, on propane", "two fuels, on electricity",
        "electric and engine", "hybrid, gasoline", "hybrid, ethanol", "hybrid, diesel",
    ];

    private static readonly string[] Standards =
    [
        "not given", "OBD II (California)", "OBD (federal)", "OBD and OBD II", "OBD I", "no OBD", "EOBD", "EOBD and OBD II", "EOBD and OBD", "EOBD, OBD and OBD II", "JOBD",
        "JOBD and OBD II", "JOBD and EOBD", "JOBD, EOBD and OBD II",
    ];

    /// <summary>One bit says it; several or an unknown one are shown as they are.</summary>
    public static string FuelSystem(uint raw) => raw switch
    {
        0 => "not in use",
        1 => "open loop, not warm enough yet",
        2 => "closed loop",
        4 => "open loop, because of load or overrun",
        8 => "open loop, because of a fault",
        16 => "closed loop, but with a fault of an oxygen sensor",
        _ => Unknown(raw),
    };

    public static string SecondaryAir(uint raw) => raw switch
    {
        1 => "before the catalyst",
        2 => "into the catalyst",
        4 => "off, or to the outside",
        8 => "on for a test",
        _ => Unknown(raw),
    };

    /// <summary>Bits 0 to 3 are bank 1, 4 to 7 bank 2.</summary>
    public static string OxygenSensorsOfTwoBanks(uint raw) => Sensors(raw, 4);

    /// <summary>Two bits a bank.</summary>
    public static string OxygenSensorsOfFourBanks(uint raw) => Sensors(raw, 2);

    public static string Fuel(uint raw) => raw < Fuels.Length ? Fuels[raw] : Unknown(raw);

    public static string Standard(uint raw) => raw < Standards.Length ? Standards[raw] : Unknown(raw);

    private static string Sensors(uint raw, int each) => BitOperations.PopCount(raw) == 0 ? "none"
        : string.Join(", ", Enumerable.Range(0, 8).Where(i => (raw >> i & 1) != 0).Select(i => string.Create(CultureInfo.InvariantCulture, $"bank {(i / each) + 1} sensor {(i % each) + 1}")));

    private static string Unknown(uint raw) => string.Create(CultureInfo.InvariantCulture, $"value {raw:X2}, not in the list");
}
