using System.Collections.Immutable;
using System.Globalization;
using System.Text;

namespace ShopDiag.Obd.Frames;

/// <summary>Hexadecimal digits.</summary>
internal static class Hex
{
    public static bool IsHex(ReadOnlySpan<char> text)
    {
        foreach (var c in text)
        {
            if (!char.IsAsciiHexDigit(c))
            {
                return false;
            }
        }

        return text.Length > 0;
    }

    /// <summary>The bytes of an even number of hexadecimal digits; null for anything else. No digits are no bytes.</summary>
    public static ImmutableArray<byte>? Bytes(ReadOnlySpan<char> digits)
    {
        if (digits.Length % 2 != 0 || (digits.Length > 0 && !IsHex(digits)))
        {
            return null;
        }

        return ImmutableArray.Create(Convert.FromHexString(digits));
    }

    /// <summary>A number of up to 8 hexadecimal digits; the caller has checked that they are.</summary>
    public static uint Number(ReadOnlySpan<char> digits) => uint.Parse(digits, NumberStyles.AllowHexSpecifier, CultureInfo.InvariantCulture);

    /// <summary><c>41 0C 1A F8</c>; a long row is cut with three dots.</summary>
    public static string Show(ReadOnlySpan<byte> bytes, int most = 24)
    {
        var text = new StringBuilder();
        foreach (var b in bytes[..Math.Min(most, bytes.Length)])
        {
            text.Append(text.Length > 0 ? " " : "").Append(b.ToString("X2", CultureInfo.InvariantCulture));
        }

        return text.Append(bytes.Length > most ? " ..." : "").ToString();
    }
}
