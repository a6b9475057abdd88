using System.Collections.Immutable;

namespace ShopDiag.Obd.Data;

/// <summary>How far one monitor has come.</summary>
/// <param name="Name">What it watches, in plain words.</param>
/// <param name="Supported">True when the car has it (or, in this driving cycle, when it may run).</param>
/// <param name="Complete">True when it has run to its end. Says nothing unless supported.</param>
public sealed record MonitorState(string Name, bool Supported, bool Complete);

/// <summary>The answer to PID 01 (since codes were cleared) or 41 (in this driving cycle).</summary>
/// <param name="ThisCycle">True for PID 41.</param>
/// <param name="LampOn">True when the lamp is commanded on. Always false in PID 41, which does not say.</param>
/// <param name="CodeCount">Number of confirmed codes, 0 to 127. Always 0 in PID 41.</param>
/// <param name="CompressionIgnition">True for a diesel's set of monitors.</param>
/// <param name="Monitors">The monitors of this set.</param>
public sealed record MonitorStatus(bool ThisCycle, bool LampOn, int CodeCount, bool CompressionIgnition, ImmutableArray<MonitorState> Monitors)
{
    private static readonly string[] Continuous = ["Misfire", "Fuel system", "Components"];

    private static readonly string?[] Spark =
        ["Catalyst", "Heated catalyst", "Fuel vapour", "Secondary air", "Air conditioning", "Oxygen sensors", "Oxygen sensor heaters", "EGR or valve timing"];

    private static readonly string?[] Compression =
        ["NMHC catalyst", "NOx treatment", null, "Boost pressure", null, "Exhaust gas sensor", "Particulate filter", "EGR or valve timing"];

    /// <summary>True when every supported monitor has run to its end.</summary>
    public bool AllComplete => Monitors.All(m => !m.Supported || m.Complete);

    /// <summary>
    /// Reads the four bytes (SAE J1979, bits from memory): A7 lamp, A6 to A0 number of codes, B0 to B2 supported and B4 to B6 not complete, B3 compression ignition,
    /// C supported and D not complete.
    /// </summary>
    internal static MonitorStatus Read(bool thisCycle, ReadOnlySpan<byte> data)
    {
        var (a, b, c, d) = (data[0], data[1], data[2], data[3]);
        var diesel = Bit(b, 3);
        var names = diesel ? Compression : Spark;
        var monitors = ImmutableArray.CreateBuilder<MonitorState>();
        for (var i = 0; i < Continuous.Length; i++)
        {
            monitors.Add(new(Continuous[i], Bit(b, i), !Bit(b, i + 4)));
        }

        for (var i = 0; i < names.Length; i++)
        {
            if (names[i] is { } name)
            {
                monitors.Add(new(name, Bit(c, i), !Bit(d, i)));
            }
        }

        return new(thisCycle, !thisCycle && Bit(a, 7), thisCycle ? 0 : a & 0x7F, diesel, monitors.ToImmutable());
    }

    private static bool Bit(byte value, int bit) => (value >> bit & 1) != 0;
}
