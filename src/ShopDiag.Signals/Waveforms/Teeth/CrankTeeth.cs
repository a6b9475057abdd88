using System.Collections.Immutable;

namespace ShopDiag.Signals.Waveforms.Teeth;

/// <summary>
/// Work of each cylinder and misfires from the times at which the teeth of the crank's wheel pass: the square of the speed from one top dead centre to the next rises by what the cylinder
/// between gives beyond the load. How well it does is measured in docs/waveforms.md.
/// </summary>
public static class CrankTeeth
{
    /// <summary>Fewest cylinders.</summary>
    public const int FewestCylinders = 3;

    /// <summary>Most cylinders.</summary>
    public const int MostCylinders = 12;

    /// <summary>Fewer working cycles than this are refused.</summary>
    public const int FewestCycles = 10;

    /// <summary>Above this speed, revolutions a minute, the teeth's own errors hide the cylinders (measured).</summary>
    public const double FastestRpm = 3000;

    /// <summary>The speed may change by this share from one cycle to the next before the trace counts as unsteady.</summary>
    private const double MostChange = 0.2;

    /// <summary>And lie within this share about its middle for the most part.</summary>
    private const double MostSpread = 0.35;

    /// <summary>
    /// Reads tooth times (seconds, rising). What is wrong with them is said in <see cref="TeethResult.Refused"/>; <see cref="ArgumentException"/> is thrown only for a firing order that
    /// does not name 3 to 12 cylinders once each.
    /// </summary>
    public static TeethResult Analyse(ReadOnlySpan<double> times, TeethRequest request)
    {
        ArgumentNullException.ThrowIfNull(request);
        Check(request);
        var (angles, problem) = ToothAngles.Number(times, request.Wheel, request.Errors);
        if (angles is null)
        {
            return new() { Refused = problem };
        }

        var (place, unplaced) = TopPlace.Find(angles, request);
        if (place is null)
        {
            return new() { Refused = unplaced };
        }

        var cycles = new WorkCycles(angles, place.Degrees, request.FiringOrder.Length);
        return WhyNot(cycles) is { } why ? new() { Refused = why } : Told(cycles, place, request, angles);
    }

    private static void Check(TeethRequest request)
    {
        var order = request.FiringOrder;
        if (order.IsDefaultOrEmpty || order.Length is < FewestCylinders or > MostCylinders || order.Distinct().Count() != order.Length)
        {
            throw new ArgumentException($"The firing order names {FewestCylinders} to {MostCylinders} cylinders once each.", nameof(request));
        }
    }

    private static string? WhyNot(WorkCycles cycles)
    {
        if (cycles.Count < FewestCycles)
        {
            return $"There are only {cycles.Count} full working cycles; it takes {FewestCycles}.";
        }

        if (cycles.Rpm > FastestRpm)
        {
            return FormattableString.Invariant($"The engine turns at {cycles.Rpm:0} rpm; above {FastestRpm:0} the teeth's own errors hide the cylinders.");
        }

        return cycles.WorstChange > MostChange || cycles.Spread > MostSpread ? "The speed changes too much: hold the engine steady." : null;
    }

    private static TeethResult Told(WorkCycles cycles, TopPlace place, TeethRequest request, ToothAngles angles)
    {
        var judged = MisfireCount.Of(cycles, request.Errors is not null, request.Wheel.Pitch);
        var n = request.FiringOrder.Length;
        ImmutableArray<int> CouldBe(int i) => place.Known ? [request.FiringOrder[i]] : [request.FiringOrder[i], request.FiringOrder[(i + (n / 2)) % n]];
        var remarks = ImmutableArray.CreateBuilder<string>();
        if (!place.Known)
        {
            remarks.Add("Without a cam or ignition signal a cylinder cannot be told from its companion, which fires one revolution later.");
        }

        if (judged.PairsUnsure)
        {
            remarks.Add("Whether both cylinders of a companion pair are lost alike cannot be seen here: they share their teeth, whose errors are not known. Record a stretch with the fuel cut and learn them from it.");
        }

        return new()
        {
            Cylinders = [.. Enumerable.Range(0, n).Select(i => new CylinderWork
            {
                Cylinder = place.Known ? request.FiringOrder[i] : null,
                CouldBe = CouldBe(i),
                Cycles = cycles.Count,
                Misfires = judged.Misfires[i],
                Misfiring = judged.Misfiring[i],
                WorkPercent = judged.WorkPercent[i],
            })],
            Cycles = cycles.Count,
            Rpm = cycles.Rpm,
            Speed = [.. MeanCycle(angles, place.Degrees, cycles.Count, request.Wheel)],
            Remarks = remarks.ToImmutable(),
        };
    }

    /// <summary>The speed over the mean cycle, from one place of the wheel to the next but two.</summary>
    private static IEnumerable<CyclePoint> MeanCycle(ToothAngles angles, double top, int cycles, ToothWheel wheel)
    {
        var reach = 1.5 * wheel.Pitch;
        for (var degrees = 0.0; degrees < 720 - 1e-9; degrees += wheel.Pitch)
        {
            var seconds = Enumerable.Range(0, cycles).Select(k => top + degrees + (720.0 * k))
                .Select(a => angles.TimeAt(a + reach) - angles.TimeAt(a - reach)).Where(double.IsFinite).DefaultIfEmpty(double.NaN).Average();
            yield return new(degrees, 2 * reach / seconds / 6);
        }
    }
}
