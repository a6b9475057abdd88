namespace ShopDiag.Signals.Waveforms.Csv;

/// <summary>What a row came to.</summary>
internal enum RowKind
{
    Read,
    Blank,

    /// <summary>No time, or nothing that is a number where numbers should be.</summary>
    LeftOut,
}

/// <summary>Reads the wanted cells of a row from its bytes; the others are passed over without being looked at.</summary>
internal sealed class RowReader
{
    private readonly byte _separator;
    private readonly byte _decimalSign;

    /// <summary>For each column to the last that is wanted: -1 passed over, 0 the time, 1 and on the channels.</summary>
    private readonly int[] _uses;

    public RowReader(CsvLayout layout)
    {
        (_separator, _decimalSign) = (layout.Separator, layout.DecimalSign);
        var last = Math.Max(layout.Time ?? -1, layout.Channels.IsEmpty ? -1 : layout.Channels.Max(c => c.Column));
        _uses = [.. Enumerable.Repeat(-1, last + 1)];
        if (layout.Time is { } time)
        {
            _uses[time] = 0;
        }

        for (var c = 0; c < layout.Channels.Length; c++)
        {
            _uses[layout.Channels[c].Column] = c + 1;
        }

        Values = new float[layout.Channels.Length];
        HasTime = layout.Time is not null;
    }

    public bool HasTime { get; }

    /// <summary>The row's time in the file's unit.</summary>
    public double Time { get; private set; }

    /// <summary>The row's values; NaN where there is none.</summary>
    public float[] Values { get; }

    /// <summary>True when the row ended before its last wanted cell.</summary>
    public bool Short { get; private set; }

    public RowKind Read(ReadOnlySpan<byte> line)
    {
        if (line.IsEmpty || line.IndexOfAnyExcept(" \t;,"u8) < 0)
        {
            return RowKind.Blank;
        }

        Time = double.NaN;
        Values.AsSpan().Fill(float.NaN);
        Short = false;
        var (numbers, words) = (0, false);
        for (var column = 0; column < _uses.Length; column++)
        {
            var length = 0;
            if (_uses[column] is >= 0 and var use)
            {
                var found = Numbers.TryRead(line, _decimalSign, out var value, out length) && (length == line.Length || line[length] == _separator);
                if (!found)
                {
                    length = HeadLine.CellLength(line, _separator);
                    found = IsOddNumber(line[..length], use == 0, out value);
                    words |= !found && !IsEmptyOrSign(line[..length]);
                }

                Keep(use, value, ref numbers);
            }
            else
            {
                length = HeadLine.CellLength(line, _separator);
            }

            if (length == line.Length)
            {
                Short = column + 1 < _uses.Length;
                break;
            }

            line = line[(length + 1)..];
        }

        return (HasTime && !double.IsFinite(Time)) || (numbers == 0 && (words || Short)) ? RowKind.LeftOut : RowKind.Read;
    }

    private void Keep(int use, double value, ref int numbers)
    {
        if (use == 0)
        {
            Time = value;
            numbers++;
            return;
        }

        Values[use - 1] = (float)value;
        numbers += double.IsNaN(value) ? 0 : 1;
    }

    /// <summary>A number in quotes or, as a time, by the clock.</summary>
    private bool IsOddNumber(ReadOnlySpan<byte> cell, bool time, out double value)
    {
        var inner = cell.Trim(" \t\""u8);
        if (Numbers.Is(inner, _decimalSign, out value) || (time && Numbers.IsClock(inner, _decimalSign, out value)))
        {
            return true;
        }

        value = double.NaN;
        return false;
    }

    /// <summary>A cell without letters or with a word for "beyond the range" is a missing value; other words mean that the line is no row.</summary>
    private static bool IsEmptyOrSign(ReadOnlySpan<byte> cell)
    {
        var inner = cell.Trim(" \t\""u8);
        return inner.Length <= 10 && HeadLine.IsNoValue(System.Text.Encoding.UTF8.GetString(inner));
    }
}
