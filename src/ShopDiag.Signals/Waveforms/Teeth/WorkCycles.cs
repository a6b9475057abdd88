using ShopDiag.Diagnosis.Statistics;
using ShopDiag.Signals.Transform;

namespace ShopDiag.Signals.Waveforms.Teeth;

/// <summary>
/// The energy index of each firing: the square of the speed at the next top dead centre less that at its own, radian² a second². The speed at top dead centre is the mean over a quarter of the
/// distance between two on either side, taken over several widths so that no single tooth decides.
/// </summary>
internal sealed class WorkCycles
{
    /// <summary>Widths of the window about top dead centre, in distances between two of them.</summary>
    private static readonly double[] Widths = [0.38, 0.46, 0.54, 0.62];

    /// <summary>The running middle of the cycles' levels reaches over so many cycles on either side: the slow change of the speed.</summary>
    private const int Reach = 4;

    private readonly List<double> _means = [];

    public WorkCycles(ToothAngles angles, double top, int cylinders)
    {
        Cylinders = cylinders;
        var interval = 720.0 / cylinders;
        var indices = new List<double[]>();
        for (var start = top; start + 720 + interval < angles.Degrees[^1]; start += 720)
        {
            var squares = Enumerable.Range(0, cylinders + 1).Select(c => Square(angles, start + (c * interval), interval)).ToArray();
            if (squares.All(double.IsFinite))
            {
                indices.Add([.. squares.Skip(1).Zip(squares, (next, own) => next - own)]);
                _means.Add(squares.Take(cylinders).Average());
                Starts.Add(start);
            }
        }

        Index = Steadied(indices);
        Angles = angles;
    }

    public int Cylinders { get; }

    public ToothAngles Angles { get; }

    /// <summary>The angle at which each cycle begins.</summary>
    public List<double> Starts { get; } = [];

    /// <summary>Index by cycle and place in the firing order, the slow change of the speed taken out.</summary>
    public double[][] Index { get; }

    /// <summary>Full working cycles.</summary>
    public int Count => Index.Length;

    /// <summary>The square of the mean speed.</summary>
    public double SpeedSquare => _means.Count == 0 ? 0 : _means.Average();

    /// <summary>Mean speed.</summary>
    public double Rpm => Math.Sqrt(SpeedSquare) * 30 / Math.PI;

    /// <summary>The largest change of speed from a cycle to the next but for a hundredth of them, as a share.</summary>
    public double WorstChange => At(_means.Zip(_means.Skip(1), (a, b) => Math.Abs(b - a) / (a + b)), 0.99);

    /// <summary>How far nine tenths of the cycles lie from the middle speed at most, as a share.</summary>
    public double Spread => Middle.Of([.. _means]) is var middle && middle > 0 ? At(_means.Select(m => Math.Abs(Math.Sqrt(m / middle) - 1)), 0.9) : 0;

    /// <summary>The mean square of the speed about an angle.</summary>
    public static double Square(ToothAngles angles, double degrees, double interval)
    {
        var sum = 0.0;
        foreach (var width in Widths)
        {
            var half = width * interval / 2;
            var speed = 2 * half * Math.PI / 180 / (angles.TimeAt(degrees + half) - angles.TimeAt(degrees - half));
            sum += speed * speed / Widths.Length;
        }

        return sum;
    }

    private static double At(IEnumerable<double> values, double share)
    {
        double[] sorted = [.. values.Order()];
        return sorted.Length == 0 ? 0 : sorted[(int)(share * (sorted.Length - 1))];
    }

    private static double[][] Steadied(List<double[]> indices)
    {
        // The level of the sound ones, not the mean: lost firings would drag it along.
        double[] slow = Middle.Filter([.. indices.Select(i => Robust.SoundLevel(i))], Reach);
        return [.. indices.Select((index, k) => index.Select(i => i - slow[k]).ToArray())];
    }
}
