using System.Collections.Immutable;
using ShopDiag.Obd.Frames;

namespace ShopDiag.Obd.Transport;

/// <summary>Cuts a message into frames after ISO 15765-2, the other way round of <see cref="Reassembler"/>. Frames are filled to 8 bytes (ISO 15765-4).</summary>
public static class Segmenter
{
    /// <summary>The frames in order. Throws unless there are 1 to 4095 bytes.</summary>
    public static ImmutableArray<CanFrame> Cut(CanId id, ReadOnlySpan<byte> message)
    {
        ArgumentOutOfRangeException.ThrowIfZero(message.Length, nameof(message));
        ArgumentOutOfRangeException.ThrowIfGreaterThan(message.Length, Reassembler.MostBytes, nameof(message));
        if (message.Length < CanFrame.MostBytes)
        {
            return [Frame(id, [(byte)message.Length], message)];
        }

        var frames = ImmutableArray.CreateBuilder<CanFrame>();
        frames.Add(Frame(id, [(byte)(0x10 | (message.Length >> 8)), (byte)message.Length], message[..6]));
        for (int at = 6, number = 1; at < message.Length; at += 7, number = (number + 1) & 0x0F)
        {
            frames.Add(Frame(id, [(byte)(0x20 | number)], message[at..Math.Min(at + 7, message.Length)]));
        }

        return frames.ToImmutable();
    }

    /// <summary>Flow control that lets everything through without a pause: 30 00 00.</summary>
    public static CanFrame GoOn(CanId id) => Frame(id, [0x30, 0, 0], []);

    private static CanFrame Frame(CanId id, ReadOnlySpan<byte> control, ReadOnlySpan<byte> data)
    {
        Span<byte> bytes = stackalloc byte[CanFrame.MostBytes];
        bytes.Clear();
        control.CopyTo(bytes);
        data.CopyTo(bytes[control.Length..]);
        return new CanFrame(id, [.. bytes]);
    }
}
