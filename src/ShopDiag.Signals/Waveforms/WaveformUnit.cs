namespace ShopDiag.Signals.Waveforms;

/// <summary>The units that oscilloscopes write beside their columns.</summary>
public static class WaveformUnit
{
    private static readonly Dictionary<string, (double Factor, string Basic)> Known = Table();

    /// <summary>
    /// What a 1 in the unit is in its basic unit: s, V, A, Ohm, Hz, W, bar or %. Case counts only for prefixes (mV, MV). False for a word that is no known unit.
    /// </summary>
    public static bool TryParse(string? text, out double factor, out string basic)
    {
        var word = (text ?? "").Trim().Trim('(', ')', '[', ']', '{', '}', '"').Trim().Replace('\u03bc', 'µ');
        var found = Known.TryGetValue(word, out var unit) || Known.TryGetValue(word.ToLowerInvariant(), out unit);
        (factor, basic) = found ? unit : (1, "");
        return found;
    }

    /// <summary>The samples of a channel in V, A and so on, in place of mV or mA; the same array where nothing is to be changed.</summary>
    public static float[] InBasicUnit(WaveformChannel channel)
    {
        ArgumentNullException.ThrowIfNull(channel);
        return TryParse(channel.Unit, out var factor, out _) && factor != 1 ? Array.ConvertAll(channel.Samples, s => (float)(s * factor)) : channel.Samples;
    }

    private static Dictionary<string, (double Factor, string Basic)> Table()
    {
        var table = new Dictionary<string, (double, string)>(StringComparer.Ordinal);
        (string Prefix, double Factor)[] prefixes = [("", 1), ("m", 1e-3), ("u", 1e-6), ("µ", 1e-6), ("n", 1e-9), ("k", 1e3)];
        foreach (var basic in new[] { "s", "V", "A", "Hz", "W", "Ohm", "bar" })
        {
            foreach (var (prefix, factor) in prefixes)
            {
                table[prefix + basic] = (factor, basic);
                table.TryAdd((prefix + basic).ToLowerInvariant(), (factor, basic));
            }
        }

        (string Word, double Factor, string Basic)[] words =
        [
            ("sec", 1, "s"), ("secs", 1, "s"), ("second", 1, "s"), ("seconds", 1, "s"), ("sekunden", 1, "s"), ("msec", 1e-3, "s"), ("milliseconds", 1e-3, "s"), ("usec", 1e-6, "s"),
            ("µsec", 1e-6, "s"), ("microseconds", 1e-6, "s"), ("volt", 1, "V"), ("volts", 1, "V"), ("millivolts", 1e-3, "V"), ("amp", 1, "A"), ("amps", 1, "A"), ("ampere", 1, "A"),
            ("amperes", 1, "A"), ("milliamps", 1e-3, "A"), ("MHz", 1e6, "Hz"), ("GHz", 1e9, "Hz"), ("MV", 1e6, "V"), ("%", 1, "%"), ("Ω", 1, "Ohm"),
        ];
        foreach (var (word, factor, basic) in words)
        {
            table[word] = (factor, basic);
        }

        return table;
    }
}
