using System.Collections.Immutable;
using ShopDiag.Obd.Messages;
using ShopDiag.Obd.MonitorTests;

namespace ShopDiag.Obd.Findings;

/// <summary>Misfires by cylinder from service 06.</summary>
internal static class MisfireSummary
{
    private sealed record Counter(MonitorTest Test, double? Seconds);

    public static ImmutableArray<MisfiresFound> From(IEnumerable<ObdRecord> answers, ImmutableArray<SpeedSample> speed)
    {
        var counters = answers.OfType<TestsRecord>()
            .SelectMany(r => r.Tests.Select(t => (Unit: ObdFindings.UnitOf(r), Counter: new Counter(t, r.Message.Seconds))))
            .Where(c => c.Counter.Test.Cylinder is not null && c.Counter.Test.IsMisfireCount)
            .ToList();

        // One control unit counts misfires; should two claim to, the one that says most is believed.
        var unit = counters.GroupBy(c => c.Unit).OrderByDescending(g => g.Count()).ThenBy(g => g.Key, StringComparer.Ordinal).FirstOrDefault();
        return unit is null ? [] : [.. unit.Select(c => c.Counter).GroupBy(c => c.Test.Cylinder!.Value).OrderBy(g => g.Key).Select(g => Cylinder(g.Key, [.. g], speed))];
    }

    private static MisfiresFound Cylinder(int cylinder, List<Counter> counters, ImmutableArray<SpeedSample> speed)
    {
        var cycle = counters.Where(c => c.Test.TestId == MonitorTest.MisfiresOfCycle).ToList();
        var found = new MisfiresFound(cylinder, Last(cycle), Last(counters.Where(c => c.Test.TestId == MonitorTest.AverageMisfires)));
        return Between(cycle, speed) is var (counted, revolutions) ? found with { Counted = counted, Revolutions = revolutions } : found;
    }

    /// <summary>The last count; null where there is no result, which is not the same as none.</summary>
    private static int? Last(IEnumerable<Counter> counters) => counters.LastOrDefault() is { Test: { Verdict: not TestVerdict.NoResult } test } ? test.RawValue : null;

    private static (int Counted, double Revolutions)? Between(List<Counter> counters, ImmutableArray<SpeedSample> speed)
    {
        var results = counters.Where(c => c.Test.Verdict != TestVerdict.NoResult && c.Seconds is not null).ToList();
        var rises = results.Zip(results.Skip(1), (a, b) => b.Test.RawValue >= a.Test.RawValue && b.Seconds >= a.Seconds).All(up => up);
        return results.Count >= 2 && rises && SpeedSeries.Revolutions(speed, results[0].Seconds!.Value, results[^1].Seconds!.Value) is > 0 and var revolutions
            ? (results[^1].Test.RawValue - results[0].Test.RawValue, revolutions)
            : null;
    }
}
