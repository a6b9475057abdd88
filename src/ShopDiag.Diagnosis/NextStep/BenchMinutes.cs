using ShopDiag.Diagnosis.Engines;
using ShopDiag.Diagnosis.Workups;

namespace ShopDiag.Diagnosis.NextStep;

/// <summary>Bench minutes that readings usually take, counted as the choice of the next step counts them.</summary>
public static class BenchMinutes
{
    /// <summary>
    /// Usual minutes of the workup's readings before the repair, in the order they were taken: what was taken off for one test counts once, a test begun
    /// before costs only its further readings. Never negative.
    /// </summary>
    public static double Of(Workup workup, Knowledge knowledge)
    {
        ArgumentNullException.ThrowIfNull(workup);
        ArgumentNullException.ThrowIfNull(knowledge);
        return Of(workup.Engine, workup.Readings.Where(r => r.Stage == BenchTests.Stage.Before).Select(r => (r.Test, r.At)), knowledge);
    }

    /// <summary>The same from what was tested where, in the order it was taken. A test that the knowledge does not have costs nothing.</summary>
    public static double Of(Engine engine, IEnumerable<(string Test, Place At)> taken, Knowledge knowledge)
    {
        ArgumentNullException.ThrowIfNull(engine);
        ArgumentNullException.ThrowIfNull(taken);
        ArgumentNullException.ThrowIfNull(knowledge);
        var time = new BenchTime(engine, knowledge);
        var (minutes, opened) = (0.0, default(Opened));
        foreach (var (id, at) in taken)
        {
            if (knowledge.Test(id) is { } test)
            {
                minutes += time.Minutes(opened, test, [at]);
                opened = time.After(opened, test, [at]);
            }
        }

        return minutes;
    }
}
