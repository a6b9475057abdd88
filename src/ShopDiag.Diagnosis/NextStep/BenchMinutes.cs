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
        var time = new BenchTime(workup.Engine, knowledge);
        var (minutes, opened) = (0.0, default(Opened));
        foreach (var reading in workup.Readings.Where(r => r.Stage == BenchTests.Stage.Before))
        {
            var test = knowledge.Test(reading.Test)!;
            minutes += time.Minutes(opened, test, [reading.At]);
            opened = time.After(opened, test, [reading.At]);
        }

        return minutes;
    }
}
