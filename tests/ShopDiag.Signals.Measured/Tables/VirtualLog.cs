using System.Globalization;
using System.Text;
using ShopDiag.Signals.Measured.Engines;
using ShopDiag.Signals.SpeedLogs;

namespace ShopDiag.Signals.Measured.Tables;

/// <summary>A run as a recorder would have written it.</summary>
internal static class VirtualLog
{
    /// <summary>Lines of time and speed: so many a second, the speed in steps, with noise before the steps.</summary>
    public static string Text(CrankRun run, double hz, double step, double noise, int seed, string separator = ",", bool decimalComma = false, string header = "time (s),rpm")
    {
        var random = new Random(seed);
        var text = new StringBuilder(header.Replace(",", separator, StringComparison.Ordinal)).Append('\n');
        for (var t = 0.0; t < run.Seconds; t += 1 / hz)
        {
            var rpm = step * Math.Round((run.Rpm(t) + (noise * Sounds.Gauss(random))) / step);
            var line = string.Create(CultureInfo.InvariantCulture, $"{t:0.000}|{rpm:0.##}");
            text.Append((decimalComma ? line.Replace('.', ',') : line).Replace("|", separator, StringComparison.Ordinal)).Append('\n');
        }

        return text.ToString();
    }

    /// <summary>How well it is read.</summary>
    public static Outcome Outcome(Trial trial, double hz, double step, double noise)
    {
        var run = trial.Run();
        var log = Text(run, hz, step, noise, trial.Seed);
        var trace = SpeedLog.Read(new MemoryStream(Encoding.UTF8.GetBytes(log)), new()).Value;
        return Tables.Outcome.Of(trial.Plan, run, trace);
    }
}
