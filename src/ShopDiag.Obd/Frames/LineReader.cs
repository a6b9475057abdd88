using System.Collections.Immutable;
using System.Globalization;

namespace ShopDiag.Obd.Frames;

/// <summary>
/// Reads one line of a log. Known forms, with or without a time stamp in brackets before: <c>can0 7E8#04410C1AF8</c> (candump's log form), <c>can0 7E8 [8] 04 41 0C</c>
/// (candump's screen form), <c>7E8 04 41 0C 1A F8</c> or <c>7E8#...</c> (a frame with its identifier), <c>41 0C 1A F8</c> (a message without frame).
/// </summary>
internal static class LineReader
{
    private const int MostMessageBytes = 4095;
    private const int MostChannelLetters = 32;

    public static LogLine Read(ReadOnlySpan<char> line)
    {
        line = line.Trim();
        if (line.IsEmpty || line[0] is '#' or ';')
        {
            return LogLine.Nothing;
        }

        line = WithoutRemark(line);
        double? stamp = null;
        if (line[0] == '(')
        {
            var end = line.IndexOf(')');
            if (end < 0 || !TryStamp(line[1..end], out var seconds))
            {
                return LogLine.Unreadable("the time stamp in brackets cannot be read.");
            }

            stamp = seconds;
            line = line[(end + 1)..].TrimStart();
        }

        // Candump may show the bytes as letters at the end, between quotes.
        var quote = line.IndexOf('\'');
        line = quote >= 0 ? line[..quote].TrimEnd() : line;
        return Body(line) with { Stamp = stamp };
    }

    /// <summary>A # behind a blank begins a remark; in a packed frame it stands behind the identifier.</summary>
    private static ReadOnlySpan<char> WithoutRemark(ReadOnlySpan<char> line)
    {
        for (var i = 1; i < line.Length; i++)
        {
            if (line[i] is '#' or ';' && (line[i - 1] is ' ' or '\t'))
            {
                return line[..i].TrimEnd();
            }
        }

        return line;
    }

    /// <summary>Seconds: a number, or a time of day behind a date.</summary>
    private static bool TryStamp(ReadOnlySpan<char> text, out double seconds)
    {
        text = text.Trim();
        if (double.TryParse(text, NumberStyles.AllowDecimalPoint | NumberStyles.AllowLeadingSign, CultureInfo.InvariantCulture, out seconds))
        {
            return double.IsFinite(seconds) && Math.Abs(seconds) < 1e12;
        }

        if (DateTime.TryParse(text, CultureInfo.InvariantCulture, DateTimeStyles.AssumeUniversal | DateTimeStyles.AdjustToUniversal | DateTimeStyles.NoCurrentDateDefault, out var moment))
        {
            seconds = moment.Ticks / (double)TimeSpan.TicksPerSecond;
            return true;
        }

        return false;
    }

    private static LogLine Body(ReadOnlySpan<char> line)
    {
        if (line.IsEmpty)
        {
            return LogLine.Unreadable("there is nothing behind the time stamp.");
        }

        if (line.EndsWith("ERRORFRAME", StringComparison.Ordinal))
        {
            return LogLine.PassedOver("an error frame of the bus.");
        }

        var first = Word(ref line);
        if (first.Contains('#'))
        {
            return Packed(first, "");
        }

        // The name of the bus: a word that is no number, or one that is followed by a packed frame or a length in brackets.
        if (!Hex.IsHex(first) || line.Contains('#') || BracketAfterNext(line))
        {
            if (first.Length > MostChannelLetters || line.IsEmpty)
            {
                return LogLine.Unreadable("neither a frame nor hexadecimal bytes.");
            }

            var rest = line;
            var next = Word(ref rest);
            if (next.Contains('#'))
            {
                return Packed(next, first.ToString());
            }

            // candump -x puts a direction and flags between the bus and the identifier.
            if (next is "RX" or "TX")
            {
                Word(ref rest);
                Word(ref rest);
                next = Word(ref rest);
            }

            return Spaced(next, rest, first.ToString());
        }

        return line.StartsWith('[') ? Spaced(first, line, "") : Bare(first, line);
    }

    private static bool BracketAfterNext(ReadOnlySpan<char> line)
    {
        var rest = line;
        Word(ref rest);
        return rest.StartsWith('[');
    }

    /// <summary><c>7E8#04410C1AF8</c>.</summary>
    private static LogLine Packed(ReadOnlySpan<char> word, string channel)
    {
        var at = word.IndexOf('#');
        var data = word[(at + 1)..];
        if (Id(word[..at]) is not { } id)
        {
            return LogLine.Unreadable("the identifier before # is no hexadecimal number of 3 or 8 digits.");
        }

        if (data.StartsWith('#'))
        {
            return LogLine.PassedOver("a CAN FD frame; only classic frames of 8 bytes are read.");
        }

        if (data.StartsWith('R'))
        {
            return LogLine.PassedOver("a remote request carries no data.");
        }

        // A length beyond 8 may follow behind _ ; it does not change the bytes.
        var length = data.IndexOf('_');
        Span<char> digits = stackalloc char[2 * CanFrame.MostBytes];
        return Joined(length >= 0 ? data[..length] : data, digits, dots: true) is { } count && Hex.Bytes(digits[..count]) is { } bytes
            ? Frame(id, bytes, channel)
            : LogLine.Unreadable("the bytes behind # are no hexadecimal digits in pairs, 8 pairs at most.");
    }

    /// <summary><c>7E8 [8] 04 41 0C 1A F8 00 00 00</c>.</summary>
    private static LogLine Spaced(ReadOnlySpan<char> word, ReadOnlySpan<char> rest, string channel)
    {
        if (Id(word) is not { } id)
        {
            return LogLine.Unreadable("no identifier of 3 or 8 hexadecimal digits was found.");
        }

        if (!rest.StartsWith('['))
        {
            return LogLine.Unreadable("a length in square brackets is missing behind the identifier.");
        }

        var end = rest.IndexOf(']');
        if (end < 0 || !int.TryParse(rest[1..end], NumberStyles.None, CultureInfo.InvariantCulture, out var length))
        {
            return LogLine.Unreadable("the length in square brackets cannot be read.");
        }

        if (length > CanFrame.MostBytes)
        {
            return LogLine.PassedOver("a CAN FD frame; only classic frames of 8 bytes are read.");
        }

        var data = rest[(end + 1)..].Trim();
        if (data.StartsWith("remote", StringComparison.OrdinalIgnoreCase))
        {
            return LogLine.PassedOver("a remote request carries no data.");
        }

        Span<char> digits = stackalloc char[2 * CanFrame.MostBytes];
        if (Joined(data, digits, dots: false) is not { } count || Hex.Bytes(digits[..count]) is not { } bytes)
        {
            return LogLine.Unreadable("the bytes are no hexadecimal digits in pairs, 8 pairs at most.");
        }

        return bytes.Length == length ? Frame(id, bytes, channel) : LogLine.Unreadable($"{length} bytes are announced and {bytes.Length} are there.");
    }

    /// <summary>Hexadecimal digits only: an identifier and its bytes, or the bytes of a message.</summary>
    private static LogLine Bare(ReadOnlySpan<char> first, ReadOnlySpan<char> rest)
    {
        var digits = new char[Math.Min(first.Length + rest.Length, 2 * (MostMessageBytes + 4))];
        first.CopyTo(digits.AsSpan(0, Math.Min(first.Length, digits.Length)));
        if (first.Length > digits.Length || Joined(rest, digits.AsSpan(first.Length), dots: false) is not { } more)
        {
            return LogLine.Unreadable("neither a frame nor hexadecimal bytes.");
        }

        // 11 bits are three digits, and pairs follow: the whole is odd. 29 bits start with 18DA or 18DB, which no OBD message does.
        var all = digits.AsSpan(0, first.Length + more);
        var idDigits = all.Length % 2 != 0 && (first.Length == 3 || rest.IsEmpty) ? 3
            : all.Length >= 8 && (all.StartsWith("18DA", StringComparison.OrdinalIgnoreCase) || all.StartsWith("18DB", StringComparison.OrdinalIgnoreCase) || (first.Length == 8 && !rest.IsEmpty)) ? 8
            : 0;
        if (idDigits > 0 && idDigits <= all.Length && Id(all[..idDigits]) is { } id)
        {
            return Hex.Bytes(all[idDigits..]) is { Length: <= CanFrame.MostBytes } data ? Frame(id, data, "") : LogLine.Unreadable("more than 8 bytes behind the identifier.");
        }

        return Hex.Bytes(all) is { } bytes && bytes.Length <= MostMessageBytes
            ? new(LineKind.Message) { Bytes = bytes, Channel = "" }
            : LogLine.Unreadable("an odd number of hexadecimal digits that start with no identifier.");
    }

    private static LogLine Frame(CanId id, ImmutableArray<byte> bytes, string channel) => new(LineKind.Frame) { Id = id, Bytes = bytes, Channel = channel };

    private static CanId? Id(ReadOnlySpan<char> digits)
    {
        if (!Hex.IsHex(digits) || digits.Length is not (3 or 8))
        {
            return null;
        }

        var value = Hex.Number(digits);
        return digits.Length == 3
            ? value <= 0x7FF ? new CanId(value, false) : null
            : value <= 0x1FFFFFFF ? new CanId(value, true) : null;
    }

    /// <summary>Takes the next word off a line.</summary>
    private static ReadOnlySpan<char> Word(ref ReadOnlySpan<char> line)
    {
        var end = line.IndexOfAny(' ', '\t');
        var word = end < 0 ? line : line[..end];
        line = end < 0 ? [] : line[end..].TrimStart();
        return word;
    }

    /// <summary>The digits without the blanks (and dots) between the bytes; null when anything else is there or they do not fit.</summary>
    private static int? Joined(ReadOnlySpan<char> text, Span<char> digits, bool dots)
    {
        var count = 0;
        foreach (var c in text)
        {
            if (c is ' ' or '\t' || (dots && c == '.'))
            {
                continue;
            }

            if (count == digits.Length || !char.IsAsciiHexDigit(c))
            {
                return null;
            }

            digits[count++] = c;
        }

        return count;
    }
}
