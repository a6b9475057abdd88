using System.Globalization;

namespace ShopDiag.Obd.MonitorTests;

/// <summary>Plain names of the monitors and tests of service 06 (SAE J1979; A2, A3, 0B and 0C confirmed in makers' manuals, the rest from memory).</summary>
internal static class MonitorNames
{
    private static readonly string[] SensorTests =
    [
        "voltage where rich turns lean", "voltage where lean turns rich", "low voltage of the switching time", "high voltage of the switching time", "time from rich to lean",
        "time from lean to rich", "lowest voltage", "highest voltage", "time between switches", "period",
    ];

    public static string Monitor(byte id) => id switch
    {
        >= 0x01 and <= 0x10 => $"Oxygen sensor {Number(((id - 1) % 4) + 1)}, bank {Number(((id - 1) / 4) + 1)}",
        >= 0x21 and <= 0x24 => $"Catalyst, bank {Number(id - 0x20)}",
        >= 0x31 and <= 0x34 => $"EGR, bank {Number(id - 0x30)}",
        >= 0x35 and <= 0x38 => $"Valve timing, bank {Number(id - 0x34)}",
        0x39 => "Fuel vapour system, cap or large leak",
        0x3A => "Fuel vapour system, leak of 0.090 in (2.3 mm)",
        0x3B => "Fuel vapour system, leak of 0.040 in (1 mm)",
        0x3C => "Fuel vapour system, leak of 0.020 in (0.5 mm)",
        0x3D => "Purge flow",
        >= 0x41 and <= 0x50 => $"Heater of oxygen sensor {Number(((id - 0x41) % 4) + 1)}, bank {Number(((id - 0x41) / 4) + 1)}",
        >= 0x61 and <= 0x64 => $"Heated catalyst, bank {Number(id - 0x60)}",
        >= 0x71 and <= 0x74 => $"Secondary air {Number(id - 0x70)}",
        >= 0x81 and <= 0x84 => $"Fuel system, bank {Number(id - 0x80)}",
        0x85 or 0x86 => $"Boost pressure control, bank {Number(id - 0x84)}",
        0x90 or 0x91 => $"NOx adsorber, bank {Number(id - 0x8F)}",
        0x98 or 0x99 => $"NOx catalyst, bank {Number(id - 0x97)}",
        0xA1 => "Misfire, all cylinders",
        >= 0xA2 and <= 0xAD => $"Misfire of cylinder {Number(id - 0xA1)}",
        0xB0 or 0xB1 => $"Particulate filter, bank {Number(id - 0xAF)}",
        >= 0xE0 => $"Maker's monitor {id.ToString("X2", CultureInfo.InvariantCulture)}",
        _ => $"Monitor {id.ToString("X2", CultureInfo.InvariantCulture)}",
    };

    public static string Test(byte id) => id switch
    {
        >= 0x01 and <= 0x0A => SensorTests[id - 1],
        MonitorTest.AverageMisfires => "misfires, average of the last ten driving cycles",
        MonitorTest.MisfiresOfCycle => "misfires in this or the last driving cycle",
        >= 0x80 => $"maker's test {id.ToString("X2", CultureInfo.InvariantCulture)}",
        _ => $"test {id.ToString("X2", CultureInfo.InvariantCulture)}",
    };

    private static string Number(int number) => number.ToString(CultureInfo.InvariantCulture);
}
