namespace ShopDiag.Signals.Waveforms.Csv;

/// <summary>Numbers as bytes of text. A loop of our own: a cell costs no string, and a decimal comma no copy.</summary>
internal static class Numbers
{
    /// <summary>From here on a number is an instrument's sign for "no value" (9.9E37 and 9.91E37 in IEEE 488.2 responses, from memory).</summary>
    public const double Overrange = 9.8e37;

    /// <summary>A mantissa below this takes one more digit without overflow.</summary>
    private const ulong RoomForADigit = (ulong.MaxValue - 9) / 10;

    /// <summary>Exponents beyond this are cut: the number is 0 or no number then anyway.</summary>
    private const int MostExponent = 400;

    private static readonly double[] Powers = [.. Enumerable.Range(0, 23).Select(n => Math.Pow(10, n))];

    /// <summary>
    /// Reads a number from the start of a cell and says how many bytes it took. What follows it is the caller's to judge. False where no number starts; one that is too large is NaN.
    /// </summary>
    public static bool TryRead(ReadOnlySpan<byte> text, byte decimalSign, out double value, out int length)
    {
        var at = 0;
        while (at < text.Length && text[at] == ' ')
        {
            at++;
        }

        var negative = at < text.Length && text[at] == '-';
        if (at < text.Length && text[at] is (byte)'-' or (byte)'+')
        {
            at++;
        }

        var (mantissa, exponent, digits) = (0UL, 0, 0);
        for (; at < text.Length && (uint)(text[at] - '0') <= 9; at++, digits++)
        {
            Push(ref mantissa, ref exponent, text[at], 1);
        }

        if (at < text.Length && text[at] == decimalSign)
        {
            for (at++; at < text.Length && (uint)(text[at] - '0') <= 9; at++, digits++)
            {
                Push(ref mantissa, ref exponent, text[at], 0);
            }
        }

        if (digits == 0)
        {
            (value, length) = (double.NaN, 0);
            return false;
        }

        at += Exponent(text[at..], ref exponent);
        while (at < text.Length && text[at] == ' ')
        {
            at++;
        }

        length = at;
        value = Scaled(mantissa, exponent);
        value = value >= Overrange ? double.NaN : negative ? -value : value;
        return true;
    }

    /// <summary>True when the whole cell is one number.</summary>
    public static bool Is(ReadOnlySpan<byte> cell, byte decimalSign, out double value) => TryRead(cell, decimalSign, out value, out var length) && length == cell.Length;

    /// <summary>Seconds of a time of day such as 12:00:01.25, also behind a date and a space or T.</summary>
    public static bool IsClock(ReadOnlySpan<byte> cell, byte decimalSign, out double seconds)
    {
        seconds = 0;
        cell = cell[(cell.LastIndexOfAny((byte)' ', (byte)'T') + 1)..];
        var parts = 0;
        while (true)
        {
            var colon = cell.IndexOf((byte)':');
            var part = colon < 0 ? cell : cell[..colon];
            if (!(Is(part, (byte)'.', out var number) || Is(part, decimalSign, out number)) || number < 0)
            {
                return false;
            }

            seconds = (60 * seconds) + number;
            parts++;
            if (colon < 0)
            {
                return parts is 2 or 3;
            }

            cell = cell[(colon + 1)..];
        }
    }

    private static void Push(ref ulong mantissa, ref int exponent, byte digit, int whole)
    {
        if (mantissa <= RoomForADigit)
        {
            mantissa = (mantissa * 10) + (uint)(digit - '0');
            exponent -= 1 - whole;
        }
        else
        {
            // Beyond 18 digits nothing that a double can hold is lost; only the place of the point is kept.
            exponent += whole;
        }
    }

    /// <summary>Bytes of an exponent such as E-03, 0 when there is none.</summary>
    private static int Exponent(ReadOnlySpan<byte> text, ref int exponent)
    {
        if (text.Length < 2 || (text[0] | 0x20) != 'e')
        {
            return 0;
        }

        var at = text[1] is (byte)'-' or (byte)'+' ? 2 : 1;
        var start = at;
        var power = 0;
        for (; at < text.Length && (uint)(text[at] - '0') <= 9; at++)
        {
            power = Math.Min((power * 10) + text[at] - '0', MostExponent);
        }

        if (at == start)
        {
            return 0;
        }

        exponent += text[1] == '-' ? -power : power;
        return at;
    }

    private static double Scaled(ulong mantissa, int exponent)
    {
        double value = mantissa;
        for (var left = exponent; left > 0 && value is > 0 and < Overrange; left -= 22)
        {
            value *= Powers[Math.Min(left, 22)];
        }

        for (var left = -exponent; left > 0 && value > 0; left -= 22)
        {
            value /= Powers[Math.Min(left, 22)];
        }

        return value;
    }
}
