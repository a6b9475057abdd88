namespace ShopDiag.Signals.Speed;

/// <summary>From the votes to the trace: finds where the engine idles, looks again around it, refines, and says how sure it is.</summary>
internal sealed class TraceMaker(SoundBands bands, EngineToHear engine, SpeedGrid grid, VoteTable votes)
{
    /// <summary>The speed is looked for again from this share of the idle found to that: a three-cylinder loses a third, a release overshoots by a fifth.</summary>
    private const double Down = 0.58;

    private const double Up = 1.30;

    /// <summary>Engines change speed by less than this from point to point: 60 % a second.</summary>
    private const double LongestChange = 0.03;

    /// <summary>Price of a step squared, in votes, for the grid's step of 0.2 %.</summary>
    private const float Price = 0.002f;

    /// <summary>Width of the mild preference for speeds near the idle, as the logarithm of the ratio, and its weight in votes.</summary>
    private const double PreferenceWidth = 0.15;

    private const double PreferenceWeight = 0.03;

    /// <summary>Another way through the votes with this share of the best one's is a rival.</summary>
    private const double RivalShare = 0.9;

    /// <summary>Votes above the median that make a point fully clear: engine at 10 dB over noise reaches about this (measured).</summary>
    private const double FullVotes = 0.6;

    public SpeedTrace Make()
    {
        var first = Path(grid, votes, engine.RoughRpm ?? 0, 0.35);
        var idle = Percentile(first, 0.6);
        var from = grid.At(Down * idle);
        var near = new SpeedGrid(grid.LowestHz * Math.Exp(from * grid.Step), grid.At(Up * idle) - from + 1, grid.Step);
        var rpm = Path(near, votes.Part(from, near.Count), idle, PreferenceWidth);
        var refinement = new Refinement(bands, engine.Cylinders);
        rpm = refinement.Refine(rpm, SoundSpeed.HopSeconds, out _);
        rpm = refinement.Refine(rpm, SoundSpeed.HopSeconds, out _);
        return new() { Points = [.. rpm.Select((r, i) => new SpeedPoint(i * SoundSpeed.HopSeconds, r, Clearness(i, r)))], Rival = Rival(first) };
    }

    private static double[] Path(SpeedGrid grid, VoteTable votes, double usual, double width)
    {
        if (usual > 0)
        {
            for (var i = 0; i < votes.Rows; i++)
            {
                Prefer(grid, votes[i], usual, width);
            }
        }

        var path = new BestPath(grid.Count, (int)(LongestChange / grid.Step), Price).Through(votes);
        return [.. path.Select((at, i) => grid.Rpm(votes.Peak(i, at)))];
    }

    private static void Prefer(SpeedGrid grid, Span<float> row, double usual, double width)
    {
        for (var s = 0; s < row.Length; s++)
        {
            var off = Math.Log(grid.Rpm(s) / usual) / width;
            row[s] -= (float)(PreferenceWeight * 0.5 * off * off);
        }
    }

    /// <summary>How the vote for the speed stands over the rest at that moment.</summary>
    private double Clearness(int row, double rpm)
    {
        var at = grid.At(rpm);
        var best = float.MinValue;
        for (var s = Math.Max(0, at - 3); s <= Math.Min(grid.Count - 1, at + 3); s++)
        {
            best = Math.Max(best, votes[row][s]);
        }

        return Math.Clamp(best / FullVotes, 0, 1);
    }

    /// <summary>The usual speed of the best way that keeps a twentieth away from the chosen one.</summary>
    private double? Rival(double[] first)
    {
        var chosen = 0.0;
        for (var i = 0; i < votes.Rows; i++)
        {
            var at = grid.At(first[i]);
            chosen += votes[i][at];
            var from = grid.At(first[i] * 0.95);
            votes[i][from..grid.At(first[i] * 1.05)].Fill(-1);
        }

        var path = new BestPath(grid.Count, (int)(LongestChange / grid.Step), Price).Through(votes);
        var other = path.Select((at, i) => (double)votes[i][at]).Sum();
        return chosen > 0 && other >= RivalShare * chosen ? Percentile([.. path.Select(p => grid.Rpm(p))], 0.5) : null;
    }

    private static double Percentile(double[] values, double share)
    {
        var sorted = values.ToArray();
        Array.Sort(sorted);
        return sorted[(int)(share * (sorted.Length - 1))];
    }
}
