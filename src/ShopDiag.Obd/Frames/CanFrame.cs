using System.Collections.Immutable;

namespace ShopDiag.Obd.Frames;

/// <summary>One frame of the classic CAN bus.</summary>
/// <param name="Id">Its identifier.</param>
/// <param name="Data">0 to 8 bytes.</param>
public sealed record CanFrame(CanId Id, ImmutableArray<byte> Data)
{
    /// <summary>Most bytes a classic frame holds.</summary>
    public const int MostBytes = 8;

    /// <summary>When it was seen, in seconds from any start; null when the log does not say.</summary>
    public double? Seconds { get; init; }

    /// <summary>The bus that it was seen on, as the log names it; empty when it does not.</summary>
    public string Channel { get; init; } = "";

    /// <summary>The line of the log, from 1 on; 0 for a frame that is from no log.</summary>
    public int Line { get; init; }
}
