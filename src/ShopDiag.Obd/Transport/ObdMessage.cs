using System.Collections.Immutable;
using ShopDiag.Obd.Frames;

namespace ShopDiag.Obd.Transport;

/// <summary>The bytes of one whole request or answer.</summary>
/// <param name="Bytes">From the service number on; 1 to 4095 bytes.</param>
public sealed record ObdMessage(ImmutableArray<byte> Bytes)
{
    /// <summary>The identifier that it came under; null for bytes without a frame.</summary>
    public CanId? Id { get; init; }

    /// <summary>When its last frame was seen, in seconds; null when the log does not say.</summary>
    public double? Seconds { get; init; }

    /// <summary>The bus, as the log names it; empty when it does not.</summary>
    public string Channel { get; init; } = "";

    /// <summary>The line of the log with its last frame, from 1 on; 0 from no log.</summary>
    public int Line { get; init; }

    /// <summary>True for a control unit's answer: by the identifier, or without one by the service number, which has bit 6 set in answers (ISO 15031-5).</summary>
    public bool IsAnswer => Id is { } id ? id.Role == CanRole.Answer : !Bytes.IsEmpty && (Bytes[0] & 0x40) != 0;
}
