using ShopDiag.Diagnosis.Workups;

namespace ShopDiag.Diagnosis.Evidence;

/// <summary>One group of aspects at all cylinders where it was read, with the hypotheses that are strong or slight there on all of them at once (<see cref="Strength"/>).</summary>
internal sealed class SharedGroup
{
    private readonly Hypothesis[] _hypotheses;
    private readonly ReadGroup[] _cylinders;
    private readonly Dictionary<int, Bits> _bits;

    /// <summary>Weighs it.</summary>
    /// <param name="hypotheses">The hypotheses.</param>
    /// <param name="cylinders">What was read at each cylinder.</param>
    public SharedGroup(Hypothesis[] hypotheses, IEnumerable<ReadGroup> cylinders)
    {
        (_hypotheses, _cylinders) = (hypotheses, [.. cylinders]);
        _bits = Enumerable.Range(0, hypotheses.Length)
            .Select(h => (Hypothesis: h, Slight: _cylinders.Max(c => c.Speakers[h]?.Slight ?? 0)))
            .Where(h => h.Slight > 0)
            .ToDictionary(h => h.Hypothesis, h => BitsOf(h.Hypothesis, h.Slight));
    }

    /// <summary>Adds what it says for each hypothesis alone, in bits.</summary>
    public void AddTo(double[] awake, double[] asleep)
    {
        foreach (var (h, bits) in _bits)
        {
            awake[h] += bits.Together;
            asleep[h] += bits.Together;
        }
    }

    /// <summary>Probability that a hypothesis is strong here, if it is the only fault.</summary>
    public double Strong(int hypothesis)
    {
        var bits = _bits[hypothesis];
        return (1 - bits.Share) * Math.Pow(2, bits.Strong - bits.Together);
    }

    /// <summary>True for a hypothesis that is strong or slight here.</summary>
    public bool Varies(int hypothesis) => _bits.ContainsKey(hypothesis);

    /// <summary>What each of its findings does to a hypothesis; together they are what it says for it.</summary>
    public IEnumerable<Effect> Effects(int hypothesis)
    {
        if (!_bits.TryGetValue(hypothesis, out var bits))
        {
            return [];
        }

        var apart = bits.Strong - bits.Slight;
        var share = Math.Abs(apart) < 1e-12 ? 1 : Math.Clamp((bits.Together - bits.Slight) / apart, 0, 1);
        return _cylinders.Where(c => c.Speakers[hypothesis] is not null).SelectMany(c => Breakdown.Of(c.Group, c.Weighing, c.Speakers[hypothesis]!, share));
    }

    /// <summary>Counts in what it says of each pair of hypotheses beyond both alone, where one of them is strong or slight here.</summary>
    public void AddPairs(PairSquare pairs)
    {
        foreach (var h in _bits.Keys)
        {
            AddPairsWith(h, pairs);
        }
    }

    private void AddPairsWith(int one, PairSquare pairs)
    {
        var (strong, slight) = (new Excess(_hypotheses.Length), new Excess(_hypotheses.Length));
        foreach (var cylinder in _cylinders)
        {
            foreach (var other in cylinder.Speaking.Where(o => o != one && cylinder.Speakers[one] is not null && !(o < one && _bits.ContainsKey(o))))
            {
                strong.Count(cylinder.Weighing, cylinder.Speakers[one]!, cylinder.Speakers[other]!, other);
                slight.Count(cylinder.Weighing, cylinder.Speakers[one]!.Less, cylinder.Speakers[other]!, other);
            }
        }

        var share = Strong(one);
        foreach (var other in strong.Counted)
        {
            Put(pairs, one, other, (share * strong.More[other]) + ((1 - share) * slight.More[other]), (share * strong.Less[other]) + ((1 - share) * slight.Less[other]));
        }
    }

    // The other is strong or slight here too, or awake or asleep, or neither.
    private void Put(PairSquare pairs, int one, int other, double more, double less)
    {
        var at = (Math.Min(one, other) * _hypotheses.Length) + Math.Max(one, other);
        if (_bits.ContainsKey(other))
        {
            pairs.Always[at] *= (Strong(other) * more) + ((1 - Strong(other)) * less);
        }
        else if (_hypotheses[other].Cause.Sleeps > 0)
        {
            var (otherAwake, otherAsleep) = other > one ? (pairs.SecondAwake, pairs.FirstAwake) : (pairs.FirstAwake, pairs.SecondAwake);
            pairs.BothAwake[at] *= more;
            otherAwake[at] *= more;
            otherAsleep[at] *= less;
            pairs.BothAsleep[at] *= less;
        }
        else
        {
            pairs.Always[at] *= more;
        }
    }

    private Bits BitsOf(int hypothesis, double share)
    {
        var (strong, slight) = (0.0, 0.0);
        foreach (var cylinder in _cylinders)
        {
            if (cylinder.Speakers[hypothesis] is { } speaker)
            {
                strong += cylinder.Weighing.Bits(speaker);
                slight += cylinder.Weighing.Bits(speaker.Less);
            }
        }

        return new Bits(share, strong, slight, slight + Math.Log2(share + ((1 - share) * Math.Pow(2, strong - slight))));
    }

    // What all cylinders say of a hypothesis where it is strong on them, slight on them (a share of all cases), and without knowing which.
    private readonly record struct Bits(double Share, double Strong, double Slight, double Together);

    /// <summary>How many times as likely what was seen is under one fault and each other together than the two alone would make it, the other showing more of itself and less.</summary>
    private sealed class Excess(int hypotheses)
    {
        private readonly bool[] _counted = new bool[hypotheses];

        public double[] More { get; } = Ones(hypotheses);

        public double[] Less { get; } = Ones(hypotheses);

        public IEnumerable<int> Counted => Enumerable.Range(0, _counted.Length).Where(h => _counted[h]);

        public void Count(Weighing weighing, Speaker one, Speaker other, int h)
        {
            _counted[h] = true;
            More[h] *= weighing.Excess(one, other);
            Less[h] *= weighing.Excess(one, other.Less);
        }

        private static double[] Ones(int length)
        {
            var ones = new double[length];
            Array.Fill(ones, 1);
            return ones;
        }
    }
}

/// <summary>A group that was read at one place, what it says, and for each hypothesis what it makes the group show there, or null.</summary>
internal sealed record ReadGroup(SeenGroup Group, Weighing Weighing, Speaker?[] Speakers)
{
    private int[]? _speaking;

    /// <summary>The hypotheses that speak of it.</summary>
    public int[] Speaking => _speaking ??= [.. Enumerable.Range(0, Speakers.Length).Where(h => Speakers[h] is not null)];
}
