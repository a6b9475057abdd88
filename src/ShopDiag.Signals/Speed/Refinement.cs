using ShopDiag.Signals.Transform;

namespace ShopDiag.Signals.Speed;

/// <summary>
/// Makes a rough trace fine: the sound is laid out over the crank angle that the trace gives, so that a changing speed no longer smears its lines, and the orders
/// vote over eight cycles for how much the speed is off.
/// </summary>
internal sealed class Refinement
{
    private const int Cycles = 8;

    /// <summary>How far off the trace may be, as the logarithm of the ratio, and how fine it is looked at.</summary>
    private const double Reach = 0.03;

    private const double Step = 0.001;

    /// <summary>Longest change of the correction from one half cycle to the next, in steps, and its price.</summary>
    private const int LongestStep = 3;

    private const float Price = 0.02f;
    private const float EnvelopeShare = 0.7f;

    private readonly SoundBands _bands;
    private readonly int _cylinders;

    public Refinement(SoundBands bands, int cylinders) => (_bands, _cylinders) = (bands, cylinders);

    /// <summary>The corrected trace at the same times.</summary>
    public double[] Refine(double[] rpm, double hopSeconds, out double[] votes)
    {
        var crank = new CrankAngle(rpm, hopSeconds);
        var slowest = EngineToHear.CycleHz(rpm.Min());
        var moments = Math.Max(1, (int)(2 * crank.Cycles));
        var grid = new SpeedGrid(Math.Exp(-Reach), (int)Math.Round(2 * Reach / Step, MidpointRounding.AwayFromZero) + 1, Step);
        var table = new VoteTable(moments, grid.Count);
        Vote(table, grid, _bands.Direct, crank, Math.Min(OrderComb.FiringOrders * _cylinders, (int)(1000 / slowest)), 15 / slowest, 1);
        Vote(table, grid, _bands.Envelope, crank, Math.Min(OrderComb.FiringOrders * _cylinders, (int)(350 / slowest)), 1, EnvelopeShare);
        var path = new BestPath(grid.Count, LongestStep, Price).Through(table);
        var ratios = new double[moments];
        var heights = new double[moments];
        for (var i = 0; i < moments; i++)
        {
            ratios[i] = Math.Exp((table.Peak(i, path[i]) * Step) - Reach);
            heights[i] = table[i][path[i]];
        }

        var refined = new double[rpm.Length];
        votes = new double[rpm.Length];
        for (var i = 0; i < rpm.Length; i++)
        {
            var at = (2 * crank.At(i * hopSeconds)) - 0.5;
            refined[i] = rpm[i] * Between(ratios, at);
            votes[i] = Between(heights, at);
        }

        return refined;
    }

    private void Vote(VoteTable table, SpeedGrid grid, Band band, CrankAngle crank, int highest, double lowest, float share)
    {
        var perCycle = (int)System.Numerics.BitOperations.RoundUpToPowerOf2((uint)(2.5 * highest));
        var (shape, fft) = (Windows.Hann(Cycles * perCycle), new RealFft(Cycles * perCycle));
        var (samples, log) = (new float[fft.Size], new float[fft.Size / 2]);
        var whitening = new Whitening((int)(2.2 * _cylinders * Cycles));
        var laid = crank.LayOut(band, perCycle);
        for (var moment = 0; moment < table.Rows; moment++)
        {
            var start = ((moment + 1) * perCycle / 2) - (fft.Size / 2);
            for (var i = 0; i < samples.Length; i++)
            {
                samples[i] = start + i >= 0 && start + i < laid.Length ? laid[start + i] * shape[i] : 0;
            }

            fft.Power(samples, log);
            foreach (ref var value in log.AsSpan())
            {
                value = 0.5f * MathF.Log(value + 1e-18f);
            }

            whitening.Apply(log);
            foreach (ref var value in log.AsSpan())
            {
                value = Math.Clamp(value, BandSpectra.Least, BandSpectra.Most);
            }

            Comb(log, grid, Math.Max(1, (int)Math.Ceiling(lowest)), highest, share, table[moment]);
        }
    }

    private void Comb(ReadOnlySpan<float> log, SpeedGrid grid, int lowest, int highest, float share, Span<float> row)
    {
        double all = 0;
        for (var order = lowest; order <= highest; order++)
        {
            all += OrderComb.Weight(order, _cylinders);
        }

        for (var order = lowest; order <= highest; order++)
        {
            var weight = (float)(share * OrderComb.Weight(order, _cylinders) / all);
            var at = Cycles * order * grid.LowestHz;
            for (var i = 0; i < row.Length; i++, at *= 1 + Step + (Step * Step / 2))
            {
                var bin = (int)at;
                if (bin + 1 < log.Length)
                {
                    row[i] += weight * (log[bin] + ((float)(at - bin) * (log[bin + 1] - log[bin])));
                }
            }
        }
    }

    private static double Between(double[] values, double at)
    {
        var i = Math.Clamp((int)at, 0, Math.Max(0, values.Length - 2));
        var next = Math.Min(i + 1, values.Length - 1);
        return values[i] + (Math.Clamp(at - i, 0, 1) * (values[next] - values[i]));
    }
}
