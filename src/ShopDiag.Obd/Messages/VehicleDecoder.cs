using System.Buffers.Binary;
using System.Collections.Immutable;
using System.Text;
using ShopDiag.Obd.Transport;

namespace ShopDiag.Obd.Messages;

/// <summary>
/// Service 09 on CAN: the information type, the number of data items, then the items (ISO 15031-5): VIN 17 letters, calibration identification 16, verification number 4 bytes,
/// name 20 letters, counts of monitors 2 bytes.
/// </summary>
internal static class VehicleDecoder
{
    private const int VinLength = 17;
    private const int CalibrationLength = 16;
    private const int VerificationLength = 4;

    public static ObdRecord Decode(ObdMessage message)
    {
        var bytes = message.Bytes.AsSpan();
        if (bytes.Length < 2)
        {
            return MessageDecoder.Unread(message, "The answer names no information type.");
        }

        var type = bytes[1];
        var rest = bytes[2..];
        if (type % 0x20 == 0)
        {
            return rest.Length >= 4
                ? new VehicleRecord(message) { Supported = [.. MessageDecoder.Supported(type, rest)] }
                : MessageDecoder.Unread(message, $"The mask of information types takes 4 bytes and has {rest.Length}.");
        }

        // Old programs and some control units leave the number of items out before the VIN; its length tells.
        if (type == 0x02 && rest.Length == VinLength && rest[0] > 1)
        {
            return Vin(message, rest) with { Remarks = ["The number of data items before the VIN is missing."] };
        }

        if (rest.IsEmpty)
        {
            return MessageDecoder.Unread(message, "The number of data items is missing.");
        }

        return Items(message, type, rest[0], rest[1..]);
    }

    private static ObdRecord Items(ObdMessage message, byte type, int count, ReadOnlySpan<byte> data)
    {
        switch (type)
        {
            case 0x02:
                return data.Length < VinLength
                    ? MessageDecoder.Unread(message, $"A VIN has 17 characters; the answer holds {data.Length}.")
                    : Vin(message, data[..VinLength]);
            case 0x04:
                var (ids, wrongIds) = Split(data, count, CalibrationLength, "calibration identification", b => Letters(b));
                return new VehicleRecord(message) { CalibrationIds = ids, Remarks = wrongIds };
            case 0x06:
                var (numbers, wrongNumbers) = Split(data, count, VerificationLength, "verification number", b => Convert.ToHexString(b));
                return new VehicleRecord(message) { VerificationNumbers = numbers, Remarks = wrongNumbers };
            case 0x08 or 0x0B:
                var (counts, wrongCounts) = Split(data, count, 2, "count", b => (int)BinaryPrimitives.ReadUInt16BigEndian(b));
                return new VehicleRecord(message) { InUseCounts = counts, Remarks = wrongCounts };
            case 0x0A:
                return Letters(data) is { Length: > 0 } name
                    ? new VehicleRecord(message) { UnitName = name }
                    : MessageDecoder.Unread(message, "The name of the control unit is empty.");
            default:
                return MessageDecoder.Unread(message, $"Information type {MessageDecoder.Two(type)} of service 09 is not read.");
        }
    }

    private static VehicleRecord Vin(ObdMessage message, ReadOnlySpan<byte> letters)
    {
        // A control unit that was never given its VIN sends filling.
        var text = Letters(letters);
        return text.Length == 0
            ? new VehicleRecord(message) { Remarks = ["The control unit holds no VIN: the characters are empty."] }
            : new VehicleRecord(message) { Vin = ShopDiag.Diagnosis.Vehicles.Vin.Check(text) };
    }

    private delegate T Reading<out T>(ReadOnlySpan<byte> bytes);

    private static (ImmutableArray<T> Items, ImmutableArray<string> Remarks) Split<T>(ReadOnlySpan<byte> data, int count, int length, string what, Reading<T> read)
    {
        var items = ImmutableArray.CreateBuilder<T>();
        for (var i = 0; i < count && (i + 1) * length <= data.Length; i++)
        {
            items.Add(read(data.Slice(i * length, length)));
        }

        return (items.ToImmutable(), items.Count == count ? [] : [$"The answer announces {MessageDecoder.Count(count, what)} and holds {items.Count}."]);
    }

    /// <summary>Printable letters of ASCII without the filling before and behind; others become a question mark.</summary>
    private static string Letters(ReadOnlySpan<byte> bytes)
    {
        var text = new StringBuilder(bytes.Length);
        foreach (var b in bytes.Trim((ReadOnlySpan<byte>)[0x00, 0x20, 0xFF]))
        {
            text.Append(b is >= 0x20 and < 0x7F ? (char)b : '?');
        }

        return text.ToString().Trim();
    }
}
