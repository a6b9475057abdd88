using System.Collections.Immutable;
using ShopDiag.Diagnosis.Vehicles;
using ShopDiag.Obd.Data;
using ShopDiag.Obd.Messages;
using ShopDiag.Obd.MonitorTests;

namespace ShopDiag.Obd.Findings;

/// <summary>A control unit that answered.</summary>
/// <param name="Id">The identifier that it answers under, such as <c>7E8</c>; empty for messages without one.</param>
/// <param name="Name">The name that it gives itself (service 09), or null.</param>
/// <param name="CalibrationIds">Its calibration identifications.</param>
/// <param name="VerificationNumbers">Its calibration verification numbers.</param>
/// <param name="Answers">How many answers of it the log holds.</param>
public sealed record ControlUnit(string Id, string? Name, ImmutableArray<string> CalibrationIds, ImmutableArray<string> VerificationNumbers, int Answers);

/// <summary>A VIN that a control unit gave.</summary>
/// <param name="Unit">The control unit.</param>
/// <param name="Vin">The number with its check.</param>
public sealed record VinFound(string Unit, VinCheck Vin);

/// <summary>The codes of one kind that a control unit gave, at the last time it was asked.</summary>
/// <param name="Unit">The control unit.</param>
/// <param name="Kind">Stored, pending or permanent.</param>
/// <param name="Cleared">How often codes had been cleared in this log before: 0 for codes as they were found.</param>
/// <param name="Codes">The codes; none is an answer too.</param>
public sealed record CodesFound(string Unit, CodeKind Kind, int Cleared, ImmutableArray<TroubleCode> Codes);

/// <summary>A freeze frame with all of its values that the log holds.</summary>
/// <param name="Unit">The control unit.</param>
/// <param name="Frame">Number of the frame.</param>
/// <param name="Code">The code that stored it; null when the log does not say.</param>
/// <param name="Values">Its values in the order of their PIDs.</param>
public sealed record FreezeFrameFound(string Unit, byte Frame, TroubleCode? Code, ImmutableArray<ObdValue> Values);

/// <summary>The last monitor status of a control unit.</summary>
/// <param name="Unit">The control unit.</param>
/// <param name="Status">The status.</param>
public sealed record MonitorsFound(string Unit, MonitorStatus Status);

/// <summary>The last result of one test of service 06.</summary>
/// <param name="Unit">The control unit.</param>
/// <param name="Test">The test with its result.</param>
public sealed record TestFound(string Unit, MonitorTest Test);

/// <summary>How one live value went.</summary>
/// <param name="Unit">The control unit.</param>
/// <param name="Last">The last value.</param>
/// <param name="Least">The least, where it is a number.</param>
/// <param name="Most">The greatest, where it is a number.</param>
/// <param name="Count">How often it was read.</param>
public sealed record ValueFound(string Unit, ObdValue Last, double? Least, double? Most, int Count);

/// <summary>The engine state in which a trim was read.</summary>
public enum TrimPoint
{
    /// <summary>At idle, standing.</summary>
    Idle,

    /// <summary>Held at 2500 rpm, standing.</summary>
    At2500,
}

/// <summary>The fuel trims of a bank in one engine state, each the median of its readings.</summary>
/// <param name="Bank">The bank, 1 to 4.</param>
/// <param name="At">The engine state.</param>
/// <param name="ShortPercent">Short-term trim; positive when the computer adds fuel.</param>
/// <param name="LongPercent">Long-term trim.</param>
/// <param name="Readings">How many readings of the scarcer of the two went into it.</param>
public sealed record TrimsFound(int Bank, TrimPoint At, double ShortPercent, double LongPercent, int Readings);

/// <summary>What service 06 says about the misfires of a cylinder.</summary>
/// <param name="Cylinder">The cylinder, 1 to 12.</param>
/// <param name="ThisCycle">Misfires in the current or last driving cycle; null when there is no result.</param>
/// <param name="TenCycles">Average of the last ten driving cycles; null when there is no result.</param>
public sealed record MisfiresFound(int Cylinder, int? ThisCycle, int? TenCycles)
{
    /// <summary>
    /// Misfires counted between the first and the last reading of the counter in this log, or null when it was read once only, fell back in between, or the engine speed does
    /// not cover the time.
    /// </summary>
    public int? Counted { get; init; }

    /// <summary>Revolutions of the engine over which <see cref="Counted"/> was counted, from the engine speed in the log; null without it.</summary>
    public double? Revolutions { get; init; }

    /// <summary>What the average will be when the current driving cycle ends; null when one of the two is missing.</summary>
    public double? AverageToCome => (TenCycles, ThisCycle) is ({ } average, { } count) ? MisfireAverage.Next(average, count) : null;
}

/// <summary>Engine speed at one moment.</summary>
/// <param name="Seconds">Since the first time stamp of the log.</param>
/// <param name="Rpm">Revolutions a minute, in steps of a quarter.</param>
public readonly record struct SpeedSample(double Seconds, double Rpm);
