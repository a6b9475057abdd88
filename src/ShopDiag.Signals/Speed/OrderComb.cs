using System.Numerics;

namespace ShopDiag.Signals.Speed;

/// <summary>
/// Lets all orders of a speed vote for it: the weighted mean of the whitened spectrum at the multiples of the cycle frequency. A firing order weighs full, another half order
/// (an unequal cylinder) less; both less the higher they are. Voting by all orders is what kept the contestants of a published contest from tying a line to the wrong order
/// (Leclère, André and Antoni, Mechanical Systems and Signal Processing 2016).
/// </summary>
internal sealed class OrderComb
{
    /// <summary>The weight of each further firing order over the one before.</summary>
    private const double Decay = 0.85;

    /// <summary>The weight of a half order beside the firing orders.</summary>
    private const double HalfOrder = 0.3;

    /// <summary>Firing orders that are looked at.</summary>
    public const int FiringOrders = 14;

    private readonly List<Tooth> _teeth = [];
    private readonly float[] _perWeight;

    /// <summary>A comb for a number of cylinders over an axis that begins with the grid and has <paramref name="points"/> points, between two frequencies.</summary>
    public OrderComb(int cylinders, SpeedGrid grid, int points, double fromHz, double toHz)
    {
        var weights = new double[grid.Count];
        for (var order = 1; order <= FiringOrders * cylinders; order++)
        {
            // The part of the grid at which this order lies between the two frequencies and on the axis.
            var from = Math.Max(0, (int)Math.Ceiling(Math.Log(fromHz / order / grid.LowestHz) / grid.Step));
            var to = Math.Min(Math.Min(grid.Count, points - grid.Offset(order)), (int)Math.Floor(Math.Log(toHz / order / grid.LowestHz) / grid.Step) + 1);
            var weight = Weight(order, cylinders);
            if (to > from)
            {
                _teeth.Add(new(from, to - from, grid.Offset(order), (float)weight));
                for (var i = from; i < to; i++)
                {
                    weights[i] += weight;
                }
            }
        }

        _perWeight = [.. weights.Select(w => w > 0 ? (float)(1 / w) : 0)];
    }

    /// <summary>How much an order counts: order = multiple of the cycle frequency; every <paramref name="cylinders"/>th is a firing order.</summary>
    public static double Weight(int order, int cylinders) =>
        (order % cylinders == 0 ? 1 : HalfOrder) * Math.Pow(Decay, Math.Max(0, ((double)order / cylinders) - 1));

    /// <summary>Adds the votes times <paramref name="share"/> to the row of speeds.</summary>
    public void Vote(ReadOnlySpan<float> axis, float share, Span<float> row)
    {
        Span<float> sums = row.Length <= 4096 ? stackalloc float[row.Length] : new float[row.Length];
        sums.Clear();
        foreach (var tooth in _teeth)
        {
            AddScaled(axis.Slice(tooth.From + tooth.Offset, tooth.Count), tooth.Weight, sums.Slice(tooth.From, tooth.Count));
        }

        for (var i = 0; i < row.Length; i++)
        {
            row[i] += share * sums[i] * _perWeight[i];
        }
    }

    private static void AddScaled(ReadOnlySpan<float> values, float factor, Span<float> sums)
    {
        var i = 0;
        for (; i <= values.Length - Vector<float>.Count; i += Vector<float>.Count)
        {
            (new Vector<float>(sums[i..]) + (factor * new Vector<float>(values[i..]))).CopyTo(sums[i..]);
        }

        for (; i < values.Length; i++)
        {
            sums[i] += factor * values[i];
        }
    }

    private readonly record struct Tooth(int From, int Count, int Offset, float Weight);
}
