using System.Collections.Frozen;

namespace ShopDiag.Obd.MonitorTests;

/// <summary>
/// What a count of service 06 stands for, by the unit-and-scaling identifier of SAE J1979 (list from memory; 24 and the sign from 80 on are confirmed in makers' manuals, see docs/obd.md):
/// value = count x scale + offset. From 80 on counts are two's complement.
/// </summary>
/// <param name="Id">The identifier.</param>
/// <param name="Scale">Units a count.</param>
/// <param name="Unit">The unit; empty for a plain number.</param>
/// <param name="Offset">Value of count 0.</param>
public sealed record UnitAndScaling(byte Id, double Scale, string Unit, double Offset = 0)
{
    private static readonly FrozenDictionary<byte, UnitAndScaling> All = Rows().ToFrozenDictionary(u => u.Id);

    /// <summary>True when counts are two's complement.</summary>
    public bool IsSigned => Id >= 0x80;

    /// <summary>Every identifier in the list.</summary>
    public static IEnumerable<UnitAndScaling> Known => All.Values.OrderBy(u => u.Id);

    /// <summary>The entry, or null when the list has none.</summary>
    public static UnitAndScaling? Find(byte id) => All.GetValueOrDefault(id);

    /// <summary>The value of 16 bits.</summary>
    public double Value(ushort raw) => ((IsSigned ? (short)raw : raw) * Scale) + Offset;

    private static IEnumerable<UnitAndScaling> Rows() =>
    [
        new(0x01, 1, ""), new(0x02, 0.1, ""), new(0x03, 0.01, ""), new(0x04, 0.001, ""), new(0x05, 1.0 / 32768, ""), new(0x06, 10.0 / 32768, ""),
        new(0x07, 0.25, "rpm"), new(0x08, 0.01, "km/h"), new(0x09, 1, "km/h"),
        new(0x0A, 0.122, "mV"), new(0x0B, 0.001, "V"), new(0x0C, 0.01, "V"),
        new(0x0D, 1.0 / 256, "mA"), new(0x0E, 0.001, "A"), new(0x0F, 0.01, "A"),
        new(0x10, 0.001, "s"), new(0x11, 0.1, "s"), new(0x12, 1, "s"),
        new(0x13, 0.001, "ohm"), new(0x14, 1, "ohm"), new(0x15, 1000, "ohm"),
        new(0x16, 0.1, "°C", -40), new(0x17, 0.01, "kPa"), new(0x18, 0.0117, "kPa"), new(0x19, 0.079, "kPa"), new(0x1A, 1, "kPa"), new(0x1B, 10, "kPa"),
        new(0x1C, 0.01, "°"), new(0x1D, 0.5, "°"), new(0x1E, 1.0 / 32768, "lambda"), new(0x1F, 0.05, "air to fuel"), new(0x20, 1.0 / 256, "ratio"),
        new(0x21, 0.001, "Hz"), new(0x22, 1, "Hz"), new(0x23, 1000, "Hz"), new(0x24, 1, "counts"), new(0x25, 1, "km"),
        new(0x26, 0.1, "V/s"), new(0x27, 0.01, "g/s"), new(0x28, 1, "g/s"), new(0x29, 0.25, "Pa/s"), new(0x2A, 0.001, "kg/h"), new(0x2B, 1, "switches"),
        new(0x2C, 0.01, "g/cylinder"), new(0x2D, 0.01, "mg/stroke"), new(0x2E, 1, "true or false"), new(0x2F, 0.01, "%"), new(0x30, 0.001526, "%"),
        new(0x31, 0.001, "L"), new(0x34, 1, "min"), new(0x35, 0.01, "s"), new(0x36, 0.01, "g"), new(0x37, 0.1, "g"), new(0x38, 1, "g"), new(0x39, 0.01, "%"),
        new(0x81, 1, ""), new(0x82, 0.1, ""), new(0x83, 0.01, ""), new(0x84, 0.001, ""), new(0x85, 1.0 / 32768, ""), new(0x86, 10.0 / 32768, ""),
        new(0x8A, 0.122, "mV"), new(0x8B, 0.001, "V"), new(0x8C, 0.01, "V"), new(0x8D, 1.0 / 256, "mA"), new(0x8E, 0.001, "A"), new(0x90, 0.001, "s"),
        new(0x96, 0.1, "°C"), new(0x99, 0.1, "kPa"), new(0x9C, 0.01, "°"), new(0x9D, 0.5, "°"), new(0xA8, 1, "g/s"), new(0xA9, 0.25, "Pa/s"),
        new(0xAF, 0.01, "%"), new(0xB0, 0.003052, "%"), new(0xFC, 0.01, "kPa"), new(0xFD, 0.001, "kPa"), new(0xFE, 0.25, "Pa"),
    ];
}
