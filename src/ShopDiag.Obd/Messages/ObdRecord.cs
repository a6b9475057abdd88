using System.Collections.Immutable;
using ShopDiag.Diagnosis.Vehicles;
using ShopDiag.Obd.Data;
using ShopDiag.Obd.MonitorTests;
using ShopDiag.Obd.Transport;

namespace ShopDiag.Obd.Messages;

/// <summary>One message, decoded as far as it goes.</summary>
/// <param name="Message">The message itself.</param>
public abstract record ObdRecord(ObdMessage Message)
{
    /// <summary>What could not be read, or looks wrong, in plain words; empty when nothing does.</summary>
    public ImmutableArray<string> Remarks { get; init; } = [];
}

/// <summary>A request of the tester.</summary>
/// <param name="Message">The message itself.</param>
/// <param name="Service">The service asked for.</param>
/// <param name="Ids">The PIDs, monitors or information types asked for, in order; empty where the service has none.</param>
public sealed record RequestRecord(ObdMessage Message, byte Service, ImmutableArray<byte> Ids) : ObdRecord(Message)
{
    /// <summary>Number of the freeze frame, for service 02.</summary>
    public byte? Frame { get; init; }
}

/// <summary>Service 01: values of the moment.</summary>
/// <param name="Message">The message itself.</param>
/// <param name="Values">The values in the order of the message.</param>
public sealed record ValuesRecord(ObdMessage Message, ImmutableArray<ObdValue> Values) : ObdRecord(Message)
{
    /// <summary>Monitor status of PID 01 and 41, as far as they were asked.</summary>
    public ImmutableArray<MonitorStatus> Monitors { get; init; } = [];

    /// <summary>The code that stored a freeze frame, when PID 02 was asked by service 01.</summary>
    public TroubleCode? FreezeCode { get; init; }

    /// <summary>PIDs that the control unit says it supports, from PID 00, 20, 40 ... of this message.</summary>
    public ImmutableArray<byte> Supported { get; init; } = [];
}

/// <summary>Service 02: values at the moment a code was stored.</summary>
/// <param name="Message">The message itself.</param>
/// <param name="Frame">Number of the frame; 0 is the one of the law.</param>
/// <param name="Values">The values in it that this message holds.</param>
public sealed record FreezeFrameRecord(ObdMessage Message, byte Frame, ImmutableArray<ObdValue> Values) : ObdRecord(Message)
{
    /// <summary>The code that stored the frame, when this message says so.</summary>
    public TroubleCode? Code { get; init; }

    /// <summary>True when the message says that no frame is stored (code 0000).</summary>
    public bool Empty { get; init; }

    /// <summary>PIDs in the frame that the control unit says it supports.</summary>
    public ImmutableArray<byte> Supported { get; init; } = [];
}

/// <summary>Which codes a service reads.</summary>
public enum CodeKind
{
    /// <summary>Service 03: confirmed, stored with the lamp.</summary>
    Stored,

    /// <summary>Service 07: seen in this or the last driving cycle, not confirmed.</summary>
    Pending,

    /// <summary>Service 0A: confirmed, and not to be cleared by a tester.</summary>
    Permanent,
}

/// <summary>Services 03, 07 and 0A: trouble codes; none is an answer too.</summary>
/// <param name="Message">The message itself.</param>
/// <param name="Kind">Which service read them.</param>
/// <param name="Codes">The codes in the order of the message.</param>
public sealed record CodesRecord(ObdMessage Message, CodeKind Kind, ImmutableArray<TroubleCode> Codes) : ObdRecord(Message);

/// <summary>Service 04: the codes were cleared, and with them the freeze frame, the counters and the monitors.</summary>
/// <param name="Message">The message itself.</param>
public sealed record ClearedRecord(ObdMessage Message) : ObdRecord(Message);

/// <summary>Service 06 on CAN: results of monitors.</summary>
/// <param name="Message">The message itself.</param>
/// <param name="Tests">The tests in the order of the message.</param>
public sealed record TestsRecord(ObdMessage Message, ImmutableArray<MonitorTest> Tests) : ObdRecord(Message)
{
    /// <summary>Monitors that the control unit says it supports.</summary>
    public ImmutableArray<byte> Supported { get; init; } = [];
}

/// <summary>Service 09: what the vehicle and the control unit are.</summary>
/// <param name="Message">The message itself.</param>
public sealed record VehicleRecord(ObdMessage Message) : ObdRecord(Message)
{
    /// <summary>The vehicle identification number with its check, or null when this message does not hold it.</summary>
    public VinCheck? Vin { get; init; }

    /// <summary>Calibration identifications.</summary>
    public ImmutableArray<string> CalibrationIds { get; init; } = [];

    /// <summary>Calibration verification numbers, eight hexadecimal digits each.</summary>
    public ImmutableArray<string> VerificationNumbers { get; init; } = [];

    /// <summary>The control unit's name, or null.</summary>
    public string? UnitName { get; init; }

    /// <summary>How often monitors have run, in the order of SAE J1979; empty when this message does not hold them.</summary>
    public ImmutableArray<int> InUseCounts { get; init; } = [];

    /// <summary>Information types that the control unit says it supports.</summary>
    public ImmutableArray<byte> Supported { get; init; } = [];
}

/// <summary>A refusal: 7F, the service, the reason.</summary>
/// <param name="Message">The message itself.</param>
/// <param name="Service">The service that was refused.</param>
/// <param name="Code">The reason as a number.</param>
public sealed record RefusalRecord(ObdMessage Message, byte Service, byte Code) : ObdRecord(Message)
{
    /// <summary>Reason 78: the answer is under way.</summary>
    public const byte ResponsePending = 0x78;

    /// <summary>True when the answer is still to come.</summary>
    public bool IsPending => Code == ResponsePending;

    /// <summary>The reason in plain words.</summary>
    public string Reason => RefusalReasons.For(Code);
}

/// <summary>A message of which nothing could be read; the remarks say why.</summary>
/// <param name="Message">The message itself.</param>
public sealed record UnreadRecord(ObdMessage Message) : ObdRecord(Message);
