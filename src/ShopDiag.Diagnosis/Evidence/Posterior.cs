using System.Collections.Immutable;

namespace ShopDiag.Diagnosis.Evidence;

/// <summary>Weighs every single fault and every pair, awake and asleep, so that all add up to 1.</summary>
/// <remarks>Weights are kept as multiples of the likeliest single fault's, so that they neither overflow nor vanish.</remarks>
internal sealed class Posterior
{
    /// <summary>Fault sets below this share of the belief are not listed: they cannot change the choice of the next step.</summary>
    private const double LeastWeight = 1e-4;

    private readonly Hypothesis[] _hypotheses;
    private readonly double[] _awake;
    private readonly double[] _asleep;
    private readonly double _scale;

    /// <summary>Weighs them.</summary>
    /// <param name="hypotheses">The hypotheses.</param>
    /// <param name="awake">What was seen says for each of them awake, in bits.</param>
    /// <param name="asleep">The same asleep.</param>
    /// <param name="pairs">What it says of pairs beyond that; used up.</param>
    public Posterior(Hypothesis[] hypotheses, double[] awake, double[] asleep, PairSquare pairs)
    {
        (_hypotheses, _awake, _asleep) = (hypotheses, new double[hypotheses.Length], new double[hypotheses.Length]);
        (Single, Marginal) = (new double[hypotheses.Length], new double[hypotheses.Length]);
        double[] bits = [.. hypotheses.Select((h, i) => Math.Log2(h.Prior) + Math.Max(awake[i], h.Cause.Sleeps > 0 ? asleep[i] : awake[i]))];
        var top = bits.Max();
        for (var h = 0; h < hypotheses.Length; h++)
        {
            var (prior, sleeps) = (Math.Log2(hypotheses[h].Prior), hypotheses[h].Cause.Sleeps);
            _awake[h] = (1 - sleeps) * Math.Pow(2, prior + awake[h] - top);
            _asleep[h] = sleeps > 0 ? sleeps * Math.Pow(2, prior + asleep[h] - top) : 0;
            Single[h] = Marginal[h] = _awake[h] + _asleep[h];
        }

        _scale = Belief.PairFactor * Math.Pow(2, top);
        var total = Single.Sum() + WeighPairs(pairs);
        Sets = Listed(pairs, total);
        for (var h = 0; h < hypotheses.Length; h++)
        {
            // Rounding in the last place must not lift a certainty above 1.
            (Single[h], Marginal[h]) = (Single[h] / total, Math.Min(1, Marginal[h] / total));
        }

        CommonBits = hypotheses[0].CommonBits - (top + Math.Log2(total));
    }

    /// <summary>Posterior of each hypothesis as the only fault.</summary>
    public double[] Single { get; }

    /// <summary>Posterior of each hypothesis, alone or as half of a pair.</summary>
    public double[] Marginal { get; }

    /// <summary>The likeliest sets, most likely first.</summary>
    public ImmutableArray<FaultSet> Sets { get; }

    /// <summary>What the logarithm of every posterior loses so that all add up to 1, in bits.</summary>
    public double CommonBits { get; }

    /// <summary>Probability that a hypothesis is awake, if it is the only fault.</summary>
    public double Awake(int hypothesis) => _asleep[hypothesis] > 0 ? _awake[hypothesis] / (_awake[hypothesis] + _asleep[hypothesis]) : 1;

    // Puts the weight of each pair into the square that held for it in any case, and gives their sum.
    private double WeighPairs(PairSquare pairs)
    {
        var (n, total) = (_hypotheses.Length, 0.0);
        for (var a = 0; a < n; a++)
        {
            for (var b = a + 1; b < n; b++)
            {
                var at = (a * n) + b;
                var weight = _hypotheses[a].PairsWith(_hypotheses[b]) ? _scale * pairs.Always[at] * (pairs.Sleeps ? Mixed(pairs, a, b) : _awake[a] * _awake[b]) : 0;
                pairs.Always[at] = weight;
                Marginal[a] += weight;
                Marginal[b] += weight;
                total += weight;
            }
        }

        return total;
    }

    private double Mixed(PairSquare pairs, int a, int b)
    {
        var at = (a * _hypotheses.Length) + b;
        return (_awake[a] * ((_awake[b] * pairs.BothAwake[at]) + (_asleep[b] * pairs.FirstAwake[at])))
            + (_asleep[a] * ((_awake[b] * pairs.SecondAwake[at]) + (_asleep[b] * pairs.BothAsleep[at])));
    }

    private ImmutableArray<FaultSet> Listed(PairSquare pairs, double total)
    {
        var (n, least, sets) = (_hypotheses.Length, LeastWeight * total, new List<FaultSet>());
        for (var a = 0; a < n; a++)
        {
            if (Single[a] >= least)
            {
                sets.Add(new FaultSet(a, null, Single[a] / total, new Waking(0, Awake(a), 0)));
            }

            for (var b = a + 1; b < n; b++)
            {
                if (pairs.Always[(a * n) + b] >= least)
                {
                    sets.Add(new FaultSet(a, b, pairs.Always[(a * n) + b] / total, WakingOf(pairs, a, b)));
                }
            }
        }

        return [.. sets.OrderByDescending(s => s.Weight)];
    }

    private Waking WakingOf(PairSquare pairs, int a, int b)
    {
        var at = (a * _hypotheses.Length) + b;
        var mixed = pairs.Sleeps ? Mixed(pairs, a, b) : 0;
        return mixed <= 0 ? new Waking(1, 0, 0) : new Waking(
            _awake[a] * _awake[b] * pairs.BothAwake[at] / mixed, _awake[a] * _asleep[b] * pairs.FirstAwake[at] / mixed, _asleep[a] * _awake[b] * pairs.SecondAwake[at] / mixed);
    }
}

/// <summary>One fault, or two at once, by index of their hypotheses.</summary>
/// <param name="One">The first.</param>
/// <param name="Other">The second, or null.</param>
/// <param name="Weight">Posterior probability.</param>
/// <param name="Awake">Who of them is awake.</param>
internal readonly record struct FaultSet(int One, int? Other, double Weight, Waking Awake);

/// <summary>Who of a fault set is awake; what is left to 1 is that nobody is.</summary>
/// <param name="Both">Probability that both are.</param>
/// <param name="First">That the first alone is.</param>
/// <param name="Second">That the second alone is.</param>
internal readonly record struct Waking(double Both, double First, double Second);
