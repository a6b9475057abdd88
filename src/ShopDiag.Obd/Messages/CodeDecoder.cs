using System.Collections.Immutable;
using System.Globalization;
using ShopDiag.Diagnosis.Vehicles;
using ShopDiag.Obd.Transport;

namespace ShopDiag.Obd.Messages;

/// <summary>
/// Services 03, 07 and 0A. On CAN a byte with the number of codes comes first, then two bytes a code; on the older buses three codes and no number (ISO 15031-5).
/// </summary>
internal static class CodeDecoder
{
    private const string Letters = "PCBU";

    /// <summary>Bytes of an answer on the older buses: the service and three codes.</summary>
    private const int OlderLength = 7;

    /// <summary>Two bytes as a code: bits 7 and 6 are the letter, 5 and 4 the first digit, the rest three hexadecimal digits (SAE J2012).</summary>
    public static TroubleCode Code(byte high, byte low) =>
        TroubleCode.Parse(string.Create(CultureInfo.InvariantCulture, $"{Letters[high >> 6]}{high >> 4 & 3}{high & 0x0F:X}{low:X2}")).Value;

    public static ObdRecord Decode(ObdMessage message, CodeKind kind)
    {
        var bytes = message.Bytes.AsSpan();

        // Bytes without a frame may come from an older bus; their length tells: an answer of CAN is never of seven bytes, since number and codes make it even.
        if (message.Id is null && bytes.Length == OlderLength)
        {
            return new CodesRecord(message, kind, Codes(bytes[1..])) { Remarks = ["Read as an answer of an older bus: three codes and no number before them."] };
        }

        if (bytes.Length < 2)
        {
            return MessageDecoder.Unread(message, "The number of codes is missing.");
        }

        var remarks = ImmutableArray.CreateBuilder<string>();
        var announced = bytes[1];
        var rest = bytes[2..];
        if (message.Id is null && rest.Length > 2 * announced && MessageDecoder.IsFilling(message, rest[(2 * announced)..]))
        {
            rest = rest[..(2 * announced)];
        }

        if (rest.Length % 2 != 0)
        {
            remarks.Add($"A code takes two bytes; the last byte ({MessageDecoder.Two(rest[^1])}) stands alone and was passed over.");
            rest = rest[..^1];
        }

        if (rest.Length / 2 != announced)
        {
            remarks.Add($"The answer announces {MessageDecoder.Count(announced, "code")} and holds {rest.Length / 2}.");
        }

        var codes = Codes(rest);
        if (codes.Length != rest.Length / 2)
        {
            remarks.Add("The answer holds 0000, which is no code.");
        }

        return new CodesRecord(message, kind, codes) { Remarks = remarks.ToImmutable() };
    }

    private static ImmutableArray<TroubleCode> Codes(ReadOnlySpan<byte> bytes)
    {
        var codes = ImmutableArray.CreateBuilder<TroubleCode>(bytes.Length / 2);
        for (var i = 0; i + 1 < bytes.Length; i += 2)
        {
            if (bytes[i] != 0 || bytes[i + 1] != 0)
            {
                codes.Add(Code(bytes[i], bytes[i + 1]));
            }
        }

        return codes.ToImmutable();
    }
}
