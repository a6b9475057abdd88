using System.Collections.Immutable;
using ShopDiag.Diagnosis.BenchTests;
using ShopDiag.Diagnosis.Engines;
using ShopDiag.Diagnosis.Evidence;

namespace ShopDiag.Diagnosis.NextStep;

/// <summary>
/// How much a test is expected to tell of which faults are present: the mutual information, in bits, between its outcome and the
/// fault sets of a belief. Information that cannot change the belief is worth 0.
/// </summary>
internal sealed class InformationGain
{
    /// <summary>Fault sets below this share of the belief are passed over: they cannot change the choice, only its cost.</summary>
    private const double LeastWeight = 1e-4;

    private readonly Engine _engine;
    private readonly Belief _belief;
    private readonly FaultSet[] _sets;

    public InformationGain(Engine engine, Belief belief)
    {
        _engine = engine;
        _belief = belief;
        var kept = belief.Sets.TakeWhile((s, i) => i == 0 || s.Weight >= LeastWeight).ToArray();
        var total = kept.Sum(s => s.Weight);
        _sets = [.. kept.Select(s => s with { Weight = s.Weight / total })];
    }

    /// <summary>
    /// Bits from one reading at each place. Several readings overlap in what they tell; their sum is capped by what telling their
    /// expected patterns apart could give.
    /// </summary>
    public double Bits(BenchTest test, IReadOnlyCollection<Place> places)
    {
        var channels = places
            .SelectMany(p => test.Aspects.SelectMany(a => PlacesOf(a, test, p).Select(q => (Aspect: a.Id, At: q))))
            .Distinct()
            .Select(c => _belief.Channel(c.Aspect, c.At))
            .ToArray();
        var sum = channels.Sum(Bits);
        return channels.Length <= 1 ? sum : Math.Min(sum, PatternBits(channels));
    }

    // A test read at the engine may speak of cylinders or banks (trouble codes): then of all of them.
    private ImmutableArray<Place> PlacesOf(Aspect aspect, BenchTest test, Place taken) =>
        aspect.Scope == test.Scope ? [taken] : BenchTest.PlacesOn(_engine, aspect.Scope);

    // Most sets show what a sound engine shows; they are lumped together, which leaves the sums as they are.
    private double Bits(Channel channel)
    {
        var mixed = new double[channel.Healthy.Length];
        var apart = new List<(double Weight, double[] Shows)>();
        var sound = 0.0;
        foreach (var set in _sets)
        {
            if (channel.Predict(set) is { } shows)
            {
                apart.Add((set.Weight, shows));
                Add(mixed, shows, set.Weight);
            }
            else
            {
                sound += set.Weight;
            }
        }

        if (apart.Count == 0)
        {
            return 0;
        }

        Add(mixed, channel.Healthy, sound);
        var bits = sound * Divergence(channel.Healthy, mixed);
        foreach (var (weight, shows) in apart)
        {
            bits += weight * Divergence(shows, mixed);
        }

        return Math.Max(0, bits);
    }

    // The entropy of the patterns of most likely outcomes over the places: what a reading without any error could tell.
    private double PatternBits(Channel[] channels)
    {
        var weights = new Dictionary<string, double>(StringComparer.Ordinal);
        var pattern = new char[channels.Length];
        foreach (var set in _sets)
        {
            for (var c = 0; c < channels.Length; c++)
            {
                pattern[c] = (char)('a' + Largest(channels[c].Predict(set) ?? channels[c].Healthy));
            }

            var key = new string(pattern);
            weights[key] = weights.GetValueOrDefault(key) + set.Weight;
        }

        return -weights.Values.Sum(w => w * Math.Log2(w));
    }

    private static void Add(double[] to, double[] shows, double weight)
    {
        for (var o = 0; o < to.Length; o++)
        {
            to[o] += weight * shows[o];
        }
    }

    private static double Divergence(double[] shows, double[] mixed)
    {
        var bits = 0.0;
        for (var o = 0; o < mixed.Length; o++)
        {
            bits += shows[o] * Math.Log2(shows[o] / mixed[o]);
        }

        return bits;
    }

    private static int Largest(double[] shows)
    {
        var largest = 0;
        for (var o = 1; o < shows.Length; o++)
        {
            if (shows[o] > shows[largest])
            {
                largest = o;
            }
        }

        return largest;
    }
}
