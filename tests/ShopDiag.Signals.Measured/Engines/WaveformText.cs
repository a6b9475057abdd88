using System.Globalization;
using System.Text;
using ShopDiag.Signals.Waveforms;

namespace ShopDiag.Signals.Measured.Engines;

/// <summary>A waveform as an oscilloscope writes it: a line of names, a line of units, a row for each sample.</summary>
internal static class WaveformText
{
    public static string Of(Waveform waveform)
    {
        var text = new StringBuilder("Time").Append(string.Concat(waveform.Channels.Select(c => "," + c.Name)));
        text.Append("\n(s)").Append(string.Concat(waveform.Channels.Select(c => $",({c.Unit})"))).Append("\n\n");
        for (var i = 0; i < waveform.Length; i++)
        {
            text.Append((waveform.StartSeconds + (i / waveform.SampleRate)).ToString("0.000000", CultureInfo.InvariantCulture));
            foreach (var channel in waveform.Channels)
            {
                text.Append(',').Append(channel.Samples[i].ToString("G6", CultureInfo.InvariantCulture));
            }

            text.Append('\n');
        }

        return text.ToString();
    }
}
