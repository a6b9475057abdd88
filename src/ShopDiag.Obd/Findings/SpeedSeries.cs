using System.Collections.Immutable;
using ShopDiag.Obd.Messages;

namespace ShopDiag.Obd.Findings;

/// <summary>Engine speed over time, PID 0C, from the control unit that gave most of it.</summary>
internal static class SpeedSeries
{
    private const byte EngineSpeed = 0x0C;

    public static ImmutableArray<SpeedSample> From(IEnumerable<ObdRecord> answers)
    {
        var samples = new Dictionary<string, List<SpeedSample>>();
        foreach (var record in answers.OfType<ValuesRecord>().Where(r => r.Message.Seconds is not null))
        {
            foreach (var value in record.Values.Where(v => v.Pid == EngineSpeed))
            {
                var unit = ObdFindings.UnitOf(record);
                (samples.TryGetValue(unit, out var list) ? list : samples[unit] = []).Add(new(record.Message.Seconds!.Value, value.Number!.Value));
            }
        }

        var most = samples.OrderByDescending(s => s.Value.Count).ThenBy(s => s.Key, StringComparer.Ordinal).Select(s => s.Value).FirstOrDefault();
        return most is null ? [] : [.. most.OrderBy(s => s.Seconds).DistinctBy(s => s.Seconds)];
    }

    /// <summary>Longest time between two speeds over which the engine may be taken to have turned evenly, in seconds.</summary>
    private const double LongestGap = 3;

    /// <summary>Revolutions between two moments by the trapezoid rule; null when the speed does not cover the time.</summary>
    public static double? Revolutions(ImmutableArray<SpeedSample> speed, double from, double to)
    {
        if (speed.Length < 2 || speed[0].Seconds > from + LongestGap || speed[^1].Seconds < to - LongestGap)
        {
            return null;
        }

        var revolutions = 0.0;
        for (var i = 1; i < speed.Length; i++)
        {
            var (a, b) = (speed[i - 1], speed[i]);
            var (start, end) = (Math.Max(a.Seconds, from), Math.Min(b.Seconds, to));
            if (end <= start)
            {
                continue;
            }

            if (b.Seconds - a.Seconds > LongestGap)
            {
                return null;
            }

            revolutions += (At(a, b, start) + At(a, b, end)) / 2 * (end - start) / 60;
        }

        // The ends outside of the speed's own time, as fast as at its ends.
        return revolutions + (Math.Max(0, speed[0].Seconds - from) * speed[0].Rpm / 60) + (Math.Max(0, to - speed[^1].Seconds) * speed[^1].Rpm / 60);
    }

    private static double At(SpeedSample a, SpeedSample b, double seconds) => a.Rpm + ((b.Rpm - a.Rpm) * (seconds - a.Seconds) / (b.Seconds - a.Seconds));
}
