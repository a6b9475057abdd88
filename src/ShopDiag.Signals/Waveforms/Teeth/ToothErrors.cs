using System.Collections.Immutable;
using ShopDiag.Diagnosis;
using ShopDiag.Signals.Transform;

namespace ShopDiag.Signals.Waveforms.Teeth;

/// <summary>
/// How far each tooth of a wheel stands from where it should, learnt while nothing burns: rolling down with the fuel cut, or cranking without fuel. There the speed changes smoothly
/// but for the compressions, which are alike for all cylinders and therefore take nothing from their comparison.
/// </summary>
public sealed record ToothErrors
{
    /// <summary>Fewer revolutions than this are refused.</summary>
    public const int FewestTurns = 8;

    /// <summary>The speed of so many revolutions on either side is taken as smooth.</summary>
    private const int Reach = 1;

    private ToothErrors(ImmutableArray<double> degrees) => Degrees = degrees;

    /// <summary>Degrees of crank for each tooth, from the first after the gap; their mean is 0.</summary>
    public ImmutableArray<double> Degrees { get; }

    /// <summary>Learns from a stretch without combustion; the error says why it cannot, its place is <c>times</c>. A plain wheel is refused: nothing tells its teeth apart from one recording to the next.</summary>
    public static Parsed<ToothErrors> Learn(ReadOnlySpan<double> times, ToothWheel wheel)
    {
        ArgumentNullException.ThrowIfNull(wheel);
        if (wheel.Missing == 0)
        {
            return new InputError("times", "The teeth of a wheel without a gap cannot be told apart from one recording to the next.");
        }

        var (angles, problem) = ToothAngles.Number(times, wheel, null);
        if (angles is null)
        {
            return new InputError("times", problem!);
        }

        var (sums, turns) = (new double[wheel.Teeth], 0);
        for (var first = Reach * wheel.Teeth; first + ((Reach + 1) * wheel.Teeth) <= angles.Times.Count; first += wheel.Teeth)
        {
            var from = first - (Reach * wheel.Teeth);
            if (Math.Abs(angles.Degrees[first + ((Reach + 1) * wheel.Teeth) - 1] - angles.Degrees[from] - ((((2 * Reach) + 1) * 360) - ((wheel.Missing + 1) * wheel.Pitch))) < 1e-6)
            {
                Add(sums, angles, from, first, wheel.Teeth);
                turns++;
            }
        }

        if (turns < FewestTurns)
        {
            return new InputError("times", $"The stretch has {turns} revolutions to learn from; it takes {FewestTurns}.");
        }

        var mean = sums.Average();
        return new ToothErrors([.. sums.Select(s => (s - mean) / turns)]);
    }

    /// <summary>Adds what the smooth angle at each tooth's time is beyond where the tooth should stand.</summary>
    private static void Add(double[] sums, ToothAngles angles, int from, int first, int teeth)
    {
        var count = ((2 * Reach) + 1) * teeth;
        var (start, span) = (angles.Times[from], angles.Times[from + count - 1] - angles.Times[from]);
        double[] Row(int i) => ((angles.Times[i] - start) / span * 2) - 1 is var x ? [1, x, x * x, x * x * x] : [];
        var equations = new NormalEquations(4);
        for (var i = from; i < from + count; i++)
        {
            equations.Add(Row(i), angles.Degrees[i] - angles.Degrees[from]);
        }

        var smooth = equations.Solve();
        for (var k = 0; k < teeth; k++)
        {
            sums[k] += Row(first + k).Zip(smooth, (a, b) => a * b).Sum() - (angles.Degrees[first + k] - angles.Degrees[from]);
        }
    }
}
