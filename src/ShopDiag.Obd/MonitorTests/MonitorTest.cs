using System.Globalization;

namespace ShopDiag.Obd.MonitorTests;

/// <summary>What a monitor's test came to.</summary>
public enum TestVerdict
{
    /// <summary>Value and both limits are 0: the test has not run since codes were cleared or the battery was off. Not a pass.</summary>
    NoResult,

    /// <summary>Within its limits, both included.</summary>
    Passed,

    /// <summary>Outside of its limits.</summary>
    Failed,

    /// <summary>The limits span everything, or are none on a misfire counter: a value to read, and no verdict.</summary>
    NoLimits,
}

/// <summary>One test of service 06 on CAN: nine bytes.</summary>
/// <param name="MonitorId">The OBDMID.</param>
/// <param name="TestId">The TID.</param>
/// <param name="UnitId">The unit-and-scaling identifier.</param>
/// <param name="RawValue">The result's 16 bits.</param>
/// <param name="RawLow">The lower limit's 16 bits.</param>
/// <param name="RawHigh">The upper limit's 16 bits.</param>
public sealed record MonitorTest(byte MonitorId, byte TestId, byte UnitId, ushort RawValue, ushort RawLow, ushort RawHigh)
{
    /// <summary>TID of the misfires averaged over the last ten driving cycles (printed in Honda 2012 Insight manual, "Mode $06").</summary>
    public const byte AverageMisfires = 0x0B;

    /// <summary>TID of the misfires of the last or current driving cycle (same source).</summary>
    public const byte MisfiresOfCycle = 0x0C;

    /// <summary>Unit and scaling; null when the identifier is not in the list, and then the values are the bare counts.</summary>
    public UnitAndScaling? Unit => UnitAndScaling.Find(UnitId);

    /// <summary>The result in its unit.</summary>
    public double Value => Scaled(RawValue);

    /// <summary>The lower limit in the same unit.</summary>
    public double Low => Scaled(RawLow);

    /// <summary>The upper limit in the same unit.</summary>
    public double High => Scaled(RawHigh);

    /// <summary>The cylinder of a misfire test, OBDMID A2 (cylinder 1) to AD (cylinder 12); null for others.</summary>
    public int? Cylinder => MonitorId is >= 0xA2 and <= 0xAD ? MonitorId - 0xA1 : null;

    /// <summary>True for the two counters of misfires of a cylinder or of all.</summary>
    public bool IsMisfireCount => MonitorId is >= 0xA1 and <= 0xAD && (TestId is AverageMisfires or MisfiresOfCycle);

    /// <summary>
    /// The verdict by the limits. "0 of 0..0" is no result (Volvo 2004 V70 manual quoting ISO/DIS 15031-5.3: a monitor not yet run reports value and limits as 0).
    /// </summary>
    public TestVerdict Verdict
    {
        get
        {
            var signed = UnitId >= 0x80;
            int Order(ushort raw) => signed ? (short)raw : raw;
            if ((RawValue, RawLow, RawHigh) == (0, 0, 0))
            {
                return TestVerdict.NoResult;
            }

            var (least, most) = signed ? ((ushort)0x8000, (ushort)0x7FFF) : ((ushort)0, ushort.MaxValue);
            if ((RawLow == least && RawHigh == most) || (IsMisfireCount && (RawLow, RawHigh) == (0, 0)))
            {
                return TestVerdict.NoLimits;
            }

            return Order(RawValue) >= Order(RawLow) && Order(RawValue) <= Order(RawHigh) ? TestVerdict.Passed : TestVerdict.Failed;
        }
    }

    /// <summary>What is watched, in plain words.</summary>
    public string Monitor => MonitorNames.Monitor(MonitorId);

    /// <summary>What is measured, in plain words.</summary>
    public string Test => MonitorNames.Test(TestId);

    /// <inheritdoc/>
    public override string ToString() => string.Create(CultureInfo.InvariantCulture, $"{Monitor}, {Test}: {Value:0.###} ({Low:0.###} to {High:0.###}) {Unit?.Unit}").TrimEnd();

    private double Scaled(ushort raw) => Unit?.Value(raw) ?? (UnitId >= 0x80 ? (short)raw : raw);
}
