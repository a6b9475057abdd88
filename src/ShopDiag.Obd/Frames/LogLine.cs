using System.Collections.Immutable;

namespace ShopDiag.Obd.Frames;

/// <summary>What a line of a log turned out to be.</summary>
internal enum LineKind
{
    /// <summary>Empty, or a remark after # or ;.</summary>
    Nothing,

    /// <summary>A frame of the bus.</summary>
    Frame,

    /// <summary>The bytes of a whole message, without frame and identifier.</summary>
    Message,

    /// <summary>A frame that carries no data for OBD: an error frame, a remote request, CAN FD.</summary>
    PassedOver,

    /// <summary>Nothing that can be read.</summary>
    Unreadable,
}

/// <summary>A line of a log, taken apart.</summary>
internal readonly record struct LogLine(LineKind Kind)
{
    public CanId Id { get; init; }

    public ImmutableArray<byte> Bytes { get; init; }

    /// <summary>The time stamp as written, in seconds.</summary>
    public double? Stamp { get; init; }

    public string? Channel { get; init; }

    /// <summary>Why nothing was read.</summary>
    public string? Reason { get; init; }

    public static LogLine Nothing { get; } = new(LineKind.Nothing);

    public static LogLine Unreadable(string reason) => new(LineKind.Unreadable) { Reason = reason };

    public static LogLine PassedOver(string reason) => new(LineKind.PassedOver) { Reason = reason };
}
