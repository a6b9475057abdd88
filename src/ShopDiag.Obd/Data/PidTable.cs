using System.Collections.Frozen;
using System.Collections.Immutable;

namespace ShopDiag.Obd.Data;

/// <summary>What the answer to a PID holds.</summary>
internal sealed record PidDefinition(byte Pid, int Bytes, ImmutableArray<PidItem> Items);

/// <summary>
/// The PIDs of service 01 that this program reads, with length and scaling after SAE J1979 / ISO 15031-5. Those up to 44 are confirmed by public tables and worked examples
/// (docs/obd.md names them); those from 45 on, and the coded ones, are from memory.
/// </summary>
internal static class PidTable
{
    private static readonly FrozenDictionary<byte, PidDefinition> All = Rows().ToFrozenDictionary(d => d.Pid);

    /// <summary>The definition of a PID, or null when this program does not know it.</summary>
    public static PidDefinition? Find(byte pid) => All.GetValueOrDefault(pid);

    /// <summary>Every known PID in order.</summary>
    public static IEnumerable<PidDefinition> Known => All.Values.OrderBy(d => d.Pid);

    /// <summary>00, 20, 40 ... say which PIDs are supported.</summary>
    public static bool IsMask(byte pid) => pid % 0x20 == 0;

    private static IEnumerable<PidDefinition> Rows() =>
    [
        .. Basic(), .. OxygenSensors(), .. Later(),
    ];

    private static IEnumerable<PidDefinition> Basic() =>
    [
        new(0x03, 2, [Coded("fuelSystem1", "Fuel system 1", 0, CodedValues.FuelSystem), Coded("fuelSystem2", "Fuel system 2", 1, CodedValues.FuelSystem)]),
        Percent(0x04, "load", "Calculated load"),
        One(0x05, "coolantCelsius", "Coolant temperature", "°C", plus: -40),
        new(0x06, 1, [Trim("shortTrim1", "Short-term fuel trim, bank 1", 0)]),
        new(0x07, 1, [Trim("longTrim1", "Long-term fuel trim, bank 1", 0)]),
        new(0x08, 1, [Trim("shortTrim2", "Short-term fuel trim, bank 2", 0)]),
        new(0x09, 1, [Trim("longTrim2", "Long-term fuel trim, bank 2", 0)]),
        One(0x0A, "fuelPressureKPa", "Fuel pressure, gauge", "kPa", times: 3),
        One(0x0B, "manifoldKPa", "Intake manifold pressure, absolute", "kPa"),
        Two(0x0C, "rpm", "Engine speed", "rpm", divided: 4),
        One(0x0D, "kmPerHour", "Vehicle speed", "km/h"),
        One(0x0E, "timingDegrees", "Ignition timing, cylinder 1", "° before TDC", divided: 2, plus: -64),
        One(0x0F, "intakeCelsius", "Intake air temperature", "°C", plus: -40),
        Two(0x10, "airGramsPerSecond", "Air mass flow", "g/s", divided: 100),
        Percent(0x11, "throttle", "Throttle position"),
        new(0x12, 1, [Coded("secondaryAir", "Secondary air", 0, CodedValues.SecondaryAir)]),
        new(0x13, 1, [Coded("oxygenSensors", "Oxygen sensors fitted", 0, CodedValues.OxygenSensorsOfTwoBanks)]),
        new(0x1C, 1, [Coded("obdStandard", "Built to", 0, CodedValues.Standard)]),
        new(0x1D, 1, [Coded("oxygenSensors4", "Oxygen sensors fitted", 0, CodedValues.OxygenSensorsOfFourBanks)]),
        new(0x1E, 1, [Coded("powerTakeOff", "Power take-off", 0, raw => (raw & 1) != 0 ? "on" : "off")]),
        Two(0x1F, "secondsSinceStart", "Run time since start", "s"),
        Two(0x21, "kmWithLamp", "Driven with the lamp on", "km"),
        Two(0x22, "railKPaOverManifold", "Fuel rail pressure over manifold", "kPa", times: 5178, divided: 65535),
        Two(0x23, "railKPa", "Fuel rail pressure, gauge", "kPa", times: 10),
        Percent(0x2C, "egrCommanded", "EGR commanded"),
        new(0x2D, 1, [Trim("egrError", "EGR error", 0)]),
        Percent(0x2E, "purge", "Purge commanded"),
        Percent(0x2F, "fuelLevel", "Fuel level"),
        One(0x30, "warmUpsSinceClear", "Warm-ups since codes were cleared", ""),
        Two(0x31, "kmSinceClear", "Driven since codes were cleared", "km"),
        new(0x32, 2, [new("vapourPascal", "Fuel vapour pressure", "Pa") { Width = 2, Signed = true, Divided = 4 }]),
        One(0x33, "barometricKPa", "Barometric pressure", "kPa"),
        Two(0x42, "moduleVolts", "Control module voltage", "V", divided: 1000),
        new(0x43, 2, [new("absoluteLoad", "Absolute load", "%") { Width = 2, Times = 100, Divided = 255 }]),
        Two(0x44, "lambdaCommanded", "Lambda commanded", "", divided: 32768),
    ];

    private static IEnumerable<PidDefinition> OxygenSensors()
    {
        for (var n = 1; n <= 8; n++)
        {
            yield return new((byte)(0x13 + n), 2,
            [
                new($"oxygen{n}Volts", $"Oxygen sensor {n}, voltage", "V") { Divided = 200 },
                Trim($"oxygen{n}Trim", $"Oxygen sensor {n}, short-term trim", 1) with { Unused = 0xFF },
            ]);
            yield return new((byte)(0x23 + n), 4,
            [
                new($"oxygen{n}Lambda", $"Oxygen sensor {n}, lambda", "") { Width = 2, Divided = 32768 },
                new($"oxygen{n}Volts", $"Oxygen sensor {n}, voltage", "V") { At = 2, Width = 2, Times = 8, Divided = 65536 },
            ]);
            yield return new((byte)(0x33 + n), 4,
            [
                new($"oxygen{n}Lambda", $"Oxygen sensor {n}, lambda", "") { Width = 2, Divided = 32768 },
                new($"oxygen{n}Milliamps", $"Oxygen sensor {n}, current", "mA") { At = 2, Width = 2, Divided = 256, Plus = -128 },
            ]);
        }
    }

    private static IEnumerable<PidDefinition> Later() =>
    [
        Catalyst(0x3C, 1, 1), Catalyst(0x3D, 2, 1), Catalyst(0x3E, 1, 2), Catalyst(0x3F, 2, 2),
        Percent(0x45, "throttleRelative", "Throttle position, relative"),
        One(0x46, "ambientCelsius", "Outside temperature", "°C", plus: -40),
        Percent(0x47, "throttleB", "Throttle position B"),
        Percent(0x48, "throttleC", "Throttle position C"),
        Percent(0x49, "pedalD", "Accelerator pedal D"),
        Percent(0x4A, "pedalE", "Accelerator pedal E"),
        Percent(0x4B, "pedalF", "Accelerator pedal F"),
        Percent(0x4C, "throttleCommanded", "Throttle commanded"),
        Two(0x4D, "minutesWithLamp", "Run with the lamp on", "min"),
        Two(0x4E, "minutesSinceClear", "Run since codes were cleared", "min"),
        new(0x4F, 4,
        [
            new("mostLambda", "Full scale of lambda", ""), new("mostOxygenVolts", "Full scale of oxygen sensor voltage", "V") { At = 1 },
            new("mostOxygenMilliamps", "Full scale of oxygen sensor current", "mA") { At = 2 }, new("mostManifoldKPa", "Full scale of manifold pressure", "kPa") { At = 3, Times = 10 },
        ]),
        new(0x50, 4, [new("mostAirGramsPerSecond", "Full scale of air mass flow", "g/s") { Times = 10 }]),
        new(0x51, 1, [Coded("fuelType", "Fuel", 0, CodedValues.Fuel)]),
        Percent(0x52, "ethanol", "Ethanol in the fuel"),
        Two(0x53, "vapourKPaAbsolute", "Fuel vapour pressure, absolute", "kPa", divided: 200),
        new(0x54, 2, [new("vapourPascalWide", "Fuel vapour pressure", "Pa") { Width = 2, Signed = true }]),
        new(0x55, 1, [Trim("secondShortTrim1", "Short-term trim of the rear sensor, bank 1", 0)]),
        new(0x56, 1, [Trim("secondLongTrim1", "Long-term trim of the rear sensor, bank 1", 0)]),
        new(0x57, 1, [Trim("secondShortTrim2", "Short-term trim of the rear sensor, bank 2", 0)]),
        new(0x58, 1, [Trim("secondLongTrim2", "Long-term trim of the rear sensor, bank 2", 0)]),
        Two(0x59, "railKPaAbsolute", "Fuel rail pressure, absolute", "kPa", times: 10),
        Percent(0x5A, "pedalRelative", "Accelerator pedal, relative"),
        Percent(0x5B, "hybridBattery", "Hybrid battery charge"),
        One(0x5C, "oilCelsius", "Oil temperature", "°C", plus: -40),
        Two(0x5D, "injectionDegrees", "Injection timing", "° before TDC", divided: 128, plus: -210),
        Two(0x5E, "litresPerHour", "Fuel used", "L/h", divided: 20),
        One(0x61, "torqueDemanded", "Torque demanded", "%", plus: -125),
        One(0x62, "torqueActual", "Torque delivered", "%", plus: -125),
        Two(0x63, "torqueReference", "Torque that 100 % stands for", "N·m"),
        new(0x66, 5,
        [
            new("airA", "Air mass flow, sensor A", "g/s") { At = 1, Width = 2, Divided = 32, PresentBit = 0 },
            new("airB", "Air mass flow, sensor B", "g/s") { At = 3, Width = 2, Divided = 32, PresentBit = 1 },
        ]),
        new(0x67, 3,
        [
            new("coolant1Celsius", "Coolant temperature, sensor 1", "°C") { At = 1, Plus = -40, PresentBit = 0 },
            new("coolant2Celsius", "Coolant temperature, sensor 2", "°C") { At = 2, Plus = -40, PresentBit = 1 },
        ]),
    ];

    /// <summary>Trims of bank 3 or 4 come as a second byte behind those of bank 1 or 2; null for other PIDs.</summary>
    public static PidItem? SecondTrim(byte pid) => pid switch
    {
        0x06 => Trim("shortTrim3", "Short-term fuel trim, bank 3", 1),
        0x07 => Trim("longTrim3", "Long-term fuel trim, bank 3", 1),
        0x08 => Trim("shortTrim4", "Short-term fuel trim, bank 4", 1),
        0x09 => Trim("longTrim4", "Long-term fuel trim, bank 4", 1),
        0x55 => Trim("secondShortTrim3", "Short-term trim of the rear sensor, bank 3", 1),
        0x56 => Trim("secondLongTrim3", "Long-term trim of the rear sensor, bank 3", 1),
        0x57 => Trim("secondShortTrim4", "Short-term trim of the rear sensor, bank 4", 1),
        0x58 => Trim("secondLongTrim4", "Long-term trim of the rear sensor, bank 4", 1),
        _ => null,
    };

    private static PidDefinition One(byte pid, string key, string label, string unit, double times = 1, double divided = 1, double plus = 0) =>
        new(pid, 1, [new(key, label, unit) { Times = times, Divided = divided, Plus = plus }]);

    private static PidDefinition Two(byte pid, string key, string label, string unit, double times = 1, double divided = 1, double plus = 0) =>
        new(pid, 2, [new(key, label, unit) { Width = 2, Times = times, Divided = divided, Plus = plus }]);

    private static PidDefinition Percent(byte pid, string key, string label) => One(pid, key, label, "%", 100, 255);

    private static PidDefinition Catalyst(byte pid, int bank, int sensor) =>
        Two(pid, $"catalyst{bank}{sensor}Celsius", $"Catalyst temperature, bank {bank}, sensor {sensor}", "°C", divided: 10, plus: -40);

    /// <summary>(A - 128) x 100 / 128: positive when the computer adds fuel.</summary>
    private static PidItem Trim(string key, string label, int at) => new(key, label, "%") { At = at, Times = 100, Divided = 128, Plus = -100 };

    private static PidItem Coded(string key, string label, int at, Func<uint, string> words) => new(key, label, "") { At = at, Words = words };
}
