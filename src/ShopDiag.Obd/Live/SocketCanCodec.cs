using System.Buffers.Binary;
using ShopDiag.Obd.Frames;

namespace ShopDiag.Obd.Live;

/// <summary>
/// A classic frame as Linux's SocketCAN hands it over, <c>struct can_frame</c> of linux/can.h: identifier with flags (4 bytes, the machine's order, here little-endian), length,
/// 3 bytes unused, 8 bytes of data.
/// </summary>
public static class SocketCanCodec
{
    /// <summary>Bytes of a frame.</summary>
    public const int Length = 16;

    private const uint Extended = 0x80000000;
    private const uint Remote = 0x40000000;
    private const uint Error = 0x20000000;

    /// <summary>Writes a frame.</summary>
    public static byte[] Write(CanFrame frame)
    {
        ArgumentNullException.ThrowIfNull(frame);
        var bytes = new byte[Length];
        BinaryPrimitives.WriteUInt32LittleEndian(bytes, frame.Id.Value | (frame.Id.Extended ? Extended : 0));
        bytes[4] = (byte)frame.Data.Length;
        frame.Data.CopyTo(bytes, 8);
        return bytes;
    }

    /// <summary>Reads a frame; null for remote requests, error frames and what is no classic frame.</summary>
    public static CanFrame? Read(ReadOnlySpan<byte> bytes)
    {
        if (bytes.Length < Length || bytes[4] > CanFrame.MostBytes)
        {
            return null;
        }

        var id = BinaryPrimitives.ReadUInt32LittleEndian(bytes);
        var extended = (id & Extended) != 0;
        return (id & (Remote | Error)) != 0
            ? null
            : new CanFrame(new CanId(id & (extended ? 0x1FFFFFFFu : 0x7FFu), extended), [.. bytes.Slice(8, bytes[4]).ToArray()]);
    }
}
