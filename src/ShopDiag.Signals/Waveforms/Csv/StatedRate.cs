namespace ShopDiag.Signals.Waveforms.Csv;

/// <summary>A sample rate that the lines over the samples state, as a rate or as the time from one sample to the next.</summary>
internal static class StatedRate
{
    private static readonly string[] RateWords = ["sample rate", "sampling rate", "samplerate", "sample frequency", "sampling frequency", "samples per second", "samples/s", "abtastrate"];
    private static readonly string[] StepWords = ["sample interval", "sampling interval", "sample period", "sampling period", "sample time", "increment", "time step", "timestep", "time per sample", "delta t", "abtastintervall"];

    /// <summary>Samples a second; null when nothing is stated.</summary>
    public static double? In(HeadTable table)
    {
        HeadLine[] lines = [.. table.Preamble];
        for (var l = 0; l < lines.Length; l++)
        {
            for (var c = 0; c < lines[l].Cells.Length; c++)
            {
                var cell = lines[l].Cells[c].Replace('_', ' ').ToLowerInvariant();
                var (rate, step) = (Says(cell, RateWords), Says(cell, StepWords) || cell is "dt" or "delta" || cell.StartsWith("dt=", StringComparison.Ordinal) || cell.StartsWith("dt =", StringComparison.Ordinal));
                if ((rate || step) && Stated(table, lines, l, c) is { } value && value > 0)
                {
                    var samples = rate ? value : 1 / value;
                    return double.IsFinite(samples) && samples is >= 1e-3 and <= 1e12 ? samples : null;
                }
            }
        }

        return null;
    }

    private static bool Says(string cell, string[] words) => words.Any(w => cell.Contains(w, StringComparison.Ordinal));

    /// <summary>The number behind the words in the same cell, in the next that is not empty, or below.</summary>
    private static double? Stated(HeadTable table, HeadLine[] lines, int line, int column)
    {
        var cell = lines[line].Cells[column];
        var sign = cell.IndexOfAny([':', '=']);
        if (sign >= 0 && Value(table, cell[(sign + 1)..], cell[..sign]) is { } inside)
        {
            return inside;
        }

        var beside = lines[line].Cells.Skip(column + 1).FirstOrDefault(c => c.Length > 0);
        if (beside is not null && Value(table, beside, cell, lines[line].Cells.Skip(column + 1).SkipWhile(c => c != beside).ElementAtOrDefault(1)) is { } right)
        {
            return right;
        }

        return line + 1 < lines.Length ? Value(table, lines[line + 1].Cell(column), cell) : null;
    }

    /// <summary>A number with a unit behind it, in a cell of its own, or in brackets behind the words: "1 MSa/s", "10", "us".</summary>
    private static double? Value(HeadTable table, string text, string words, string? unitCell = null)
    {
        var trimmed = text.Trim();
        var length = 0;
        while (length < trimmed.Length && (char.IsAsciiDigit(trimmed[length]) || trimmed[length] is '.' or ',' or '-' or '+' || IsExponent(trimmed, length)))
        {
            length++;
        }

        if (!table.Is(trimmed[..length], out var number) && !HeadLine.IsNumber(trimmed[..length], (byte)'.', out number))
        {
            return null;
        }

        var unit = trimmed[length..].Trim();
        var from = words.LastIndexOfAny(['(', '[']);
        var inWords = from >= 0 ? words[(from + 1)..].TrimEnd(')', ']', ' ') : "";
        return number * Factor(unit.Length > 0 ? unit : inWords.Length > 0 ? inWords : unitCell ?? "");
    }

    private static bool IsExponent(string text, int at) => (text[at] | 0x20) == 'e' && at > 0 && char.IsAsciiDigit(text[at - 1]) && at + 1 < text.Length && (char.IsAsciiDigit(text[at + 1]) || text[at + 1] is '-' or '+');

    private static double Factor(string unit)
    {
        var word = unit.Trim().Trim('(', ')', '[', ']');
        foreach (var ending in new[] { "Sa/s", "S/s", "samples/s", "Samples/s", "Sps", "SPS", "sps", "Hz" })
        {
            if (word.EndsWith(ending, StringComparison.Ordinal))
            {
                return word[..^ending.Length].Trim() switch { "k" or "K" => 1e3, "M" => 1e6, "G" => 1e9, "m" => 1e-3, _ => 1 };
            }
        }

        return WaveformUnit.TryParse(word, out var factor, out _) ? factor : 1;
    }
}
