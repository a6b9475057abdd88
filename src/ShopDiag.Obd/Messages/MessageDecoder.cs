using System.Collections.Immutable;
using System.Globalization;
using ShopDiag.Obd.Frames;
using ShopDiag.Obd.Transport;

namespace ShopDiag.Obd.Messages;

/// <summary>
/// Decodes whole messages of SAE J1979 / ISO 15031-5: services 01 to 04, 06, 07, 09 and 0A, requests and answers. Never throws for what the message holds; what cannot be read
/// is said in the record's remarks.
/// </summary>
public static class MessageDecoder
{
    private const byte AnswerBit = 0x40;
    private const byte Refusal = 0x7F;

    /// <summary>Decodes one message.</summary>
    public static ObdRecord Decode(ObdMessage message)
    {
        ArgumentNullException.ThrowIfNull(message);
        if (message.Bytes.IsDefaultOrEmpty)
        {
            return Unread(message, "A message without bytes.");
        }

        return message.IsAnswer ? Answer(message) : Request(message);
    }

    /// <summary>True for a service of SAE J1979 that is read here.</summary>
    internal static bool IsKnown(int service) => service is 0x01 or 0x02 or 0x03 or 0x04 or 0x06 or 0x07 or 0x09 or 0x0A;

    internal static UnreadRecord Unread(ObdMessage message, string why) => new(message) { Remarks = [why] };

    private static ObdRecord Answer(ObdMessage message)
    {
        var first = message.Bytes[0];
        if (first == Refusal)
        {
            return message.Bytes.Length >= 3
                ? new RefusalRecord(message, message.Bytes[1], message.Bytes[2])
                : Unread(message, $"A refusal (7F) of {Count(message.Bytes.Length, "byte")}; it takes 3.");
        }

        return (first - AnswerBit) switch
        {
            0x01 => ValueDecoder.Live(message),
            0x02 => ValueDecoder.FreezeFrame(message),
            0x03 => CodeDecoder.Decode(message, CodeKind.Stored),
            0x04 => new ClearedRecord(message),
            0x06 => TestDecoder.Decode(message),
            0x07 => CodeDecoder.Decode(message, CodeKind.Pending),
            0x09 => VehicleDecoder.Decode(message),
            0x0A => CodeDecoder.Decode(message, CodeKind.Permanent),
            0x05 => Unread(message, "Service 05 (oxygen sensor tests) is not used on CAN; service 06 takes its place."),
            0x08 => Unread(message, "Service 08 (control of a test) is not read."),
            _ when (first & AnswerBit) == 0 => Unread(message, $"A control unit's answer begins with a number from 41 on, this one with {Two(first)}."),
            _ => Unread(message, $"An answer to service {Two((byte)(first - AnswerBit))}, which is none of SAE J1979."),
        };
    }

    private static ObdRecord Request(ObdMessage message)
    {
        var service = message.Bytes[0];
        if (!IsKnown(service))
        {
            return Unread(message, $"A request for service {Two(service)}, which is not read.");
        }

        var rest = message.Bytes.AsSpan()[1..];
        if (service == 0x02)
        {
            // PID and frame number in turn.
            var pids = ImmutableArray.CreateBuilder<byte>();
            for (var i = 0; i + 1 < rest.Length; i += 2)
            {
                pids.Add(rest[i]);
            }

            return new RequestRecord(message, service, pids.ToImmutable()) { Frame = rest.Length >= 2 ? rest[1] : null };
        }

        return new RequestRecord(message, service, service is 0x01 or 0x06 or 0x09 ? [.. rest] : []);
    }

    internal static string Two(byte value) => value.ToString("X2", CultureInfo.InvariantCulture);

    internal static string Count(int count, string what) => string.Create(CultureInfo.InvariantCulture, $"{count} {what}{(count == 1 ? "" : "s")}");

    /// <summary>Identifiers that a mask of four bytes names: the highest bit is base + 1.</summary>
    internal static IEnumerable<byte> Supported(byte first, ReadOnlySpan<byte> mask)
    {
        var ids = new List<byte>();
        for (var i = 0; i < 32; i++)
        {
            if ((mask[i / 8] & (0x80 >> (i % 8))) != 0 && first + i + 1 <= 0xFF)
            {
                ids.Add((byte)(first + i + 1));
            }
        }

        return ids;
    }

    /// <summary>
    /// True for what may stand behind a message that was logged without frames: whole frames were noted down with their filling. Filling is one value over and over (ISO 15765-4 leaves it open).
    /// </summary>
    internal static bool IsFilling(ObdMessage message, ReadOnlySpan<byte> rest) =>
        message.Id is null && !rest.IsEmpty && rest.Length < CanFrame.MostBytes && (rest[0] is 0x00 or 0x55 or 0xAA or 0xCC or 0xFF) && rest.Count(rest[0]) == rest.Length;
}
