using System.Numerics;

namespace ShopDiag.Signals.Speed;

/// <summary>
/// The way through a table of votes (a row a moment, a column a speed) with the highest sum, less a price for each change of speed: dynamic programming over all ways
/// (Viterbi). The price is quadratic, and no step is longer than the longest.
/// </summary>
internal sealed class BestPath
{
    /// <summary>From this many places on the price grows straight: a cancelled cylinder makes the speed fall fast, and a square would forbid it.</summary>
    private const int Knee = 4;

    private const float Never = -1e30f;
    private readonly int _longest;
    private readonly float[] _price;
    private readonly float[] _padded;

    /// <summary>For rows of <paramref name="count"/> speeds; a step of n costs <paramref name="price"/> n².</summary>
    public BestPath(int count, int longestStep, float price)
    {
        _longest = longestStep;
        _price = [.. Enumerable.Range(-longestStep, (2 * longestStep) + 1).Select(d => price * Math.Min(d * d, Knee * ((2 * Math.Abs(d)) - Knee)))];
        _padded = new float[count + (2 * longestStep)];
        Array.Fill(_padded, Never);
    }

    /// <summary>Sums of the best ways to each speed after the rows so far; all equal at first.</summary>
    public Span<float> Sums => _padded.AsSpan(_longest, _padded.Length - (2 * _longest));

    /// <summary>Starts again.</summary>
    public void Restart() => Sums.Clear();

    /// <summary>Goes on by a row; <paramref name="from"/> receives by how many places the best way to each speed came from elsewhere.</summary>
    public void Advance(ReadOnlySpan<float> row, Span<sbyte> from)
    {
        Span<float> best = row.Length <= 4096 ? stackalloc float[row.Length] : new float[row.Length];
        Span<float> step = row.Length <= 4096 ? stackalloc float[row.Length] : new float[row.Length];
        best.Fill(Never * 2);
        for (var d = -_longest; d <= _longest; d++)
        {
            Better(_padded.AsSpan(_longest + d, row.Length), _price[d + _longest], d, best, step);
        }

        for (var i = 0; i < row.Length; i++)
        {
            Sums[i] = best[i] + row[i];
            from[i] = (sbyte)step[i];
        }
    }

    /// <summary>The best way through all rows, a place a row.</summary>
    public int[] Through(VoteTable votes)
    {
        Restart();
        var from = new sbyte[votes.Rows * votes.Columns];
        for (var i = 0; i < votes.Rows; i++)
        {
            Advance(votes[i], from.AsSpan(i * votes.Columns, votes.Columns));
        }

        var path = new int[votes.Rows];
        var at = Highest(Sums);
        for (var i = votes.Rows - 1; i >= 0; i--)
        {
            path[i] = at;
            at += from[(i * votes.Columns) + at];
        }

        return path;
    }

    /// <summary>The place of the highest value.</summary>
    public static int Highest(ReadOnlySpan<float> values)
    {
        var at = 0;
        for (var i = 1; i < values.Length; i++)
        {
            at = values[i] > values[at] ? i : at;
        }

        return at;
    }

    private static void Better(ReadOnlySpan<float> sums, float price, int d, Span<float> best, Span<float> step)
    {
        var (prices, steps) = (new Vector<float>(price), new Vector<float>(d));
        var i = 0;
        for (; i <= best.Length - Vector<float>.Count; i += Vector<float>.Count)
        {
            var candidate = new Vector<float>(sums[i..]) - prices;
            var old = new Vector<float>(best[i..]);
            var better = Vector.GreaterThan(candidate, old);
            Vector.ConditionalSelect(better, candidate, old).CopyTo(best[i..]);
            Vector.ConditionalSelect(better, steps, new Vector<float>(step[i..])).CopyTo(step[i..]);
        }

        for (; i < best.Length; i++)
        {
            if (sums[i] - price > best[i])
            {
                (best[i], step[i]) = (sums[i] - price, d);
            }
        }
    }
}

/// <summary>Votes for speeds: a row a moment, a column a speed.</summary>
internal sealed class VoteTable(int rows, int columns)
{
    private readonly float[] _votes = new float[rows * columns];

    public int Rows => rows;

    public int Columns => columns;

    public Span<float> this[int row] => _votes.AsSpan(row * columns, columns);

    /// <summary>A copy of some of the columns.</summary>
    public VoteTable Part(int from, int count)
    {
        var part = new VoteTable(rows, count);
        for (var i = 0; i < rows; i++)
        {
            this[i].Slice(from, count).CopyTo(part[i]);
        }

        return part;
    }

    /// <summary>Where between the columns the peak at a place lies, by a parabola through it and its neighbours: the place and a part of -0.5 to 0.5.</summary>
    public double Peak(int row, int at)
    {
        if (at <= 0 || at >= columns - 1)
        {
            return at;
        }

        var votes = this[row];
        double left = votes[at - 1], middle = votes[at], right = votes[at + 1];
        var bend = left - (2 * middle) + right;
        return bend < -1e-9 ? at + Math.Clamp(0.5 * (left - right) / bend, -0.5, 0.5) : at;
    }
}
