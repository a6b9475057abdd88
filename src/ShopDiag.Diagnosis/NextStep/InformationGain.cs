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
        var channels = places.SelectMany(p => test.Aspects.SelectMany(a => PlacesOf(a, test, p).Select(q => (Aspect: a.Id, At: q)))).Distinct().ToArray();
        var shown = channels.Select(c => _sets.Select(s => _belief.Predict(s, c.Aspect, c.At)).ToArray()).ToArray();
        var sum = shown.Sum(Bits);
        return channels.Length <= 1 ? sum : Math.Min(sum, PatternBits(shown));
    }

    // A test read at the engine may speak of cylinders or banks (trouble codes): then of all of them.
    private ImmutableArray<Place> PlacesOf(Aspect aspect, BenchTest test, Place taken) =>
        aspect.Scope == test.Scope ? [taken] : BenchTest.PlacesOn(_engine, aspect.Scope);

    private double Bits(double[][] shown)
    {
        var mixed = new double[shown[0].Length];
        for (var s = 0; s < shown.Length; s++)
        {
            for (var o = 0; o < mixed.Length; o++)
            {
                mixed[o] += _sets[s].Weight * shown[s][o];
            }
        }

        var bits = 0.0;
        for (var s = 0; s < shown.Length; s++)
        {
            for (var o = 0; o < mixed.Length; o++)
            {
                bits += _sets[s].Weight * shown[s][o] * Math.Log2(shown[s][o] / mixed[o]);
            }
        }

        return Math.Max(0, bits);
    }

    // The entropy of the patterns of most likely outcomes over the places: what a reading without any error could tell.
    private double PatternBits(double[][][] shown)
    {
        var weights = new Dictionary<string, double>();
        for (var s = 0; s < _sets.Length; s++)
        {
            var pattern = string.Concat(shown.Select(c => (char)('a' + Array.IndexOf(c[s], c[s].Max()))));
            weights[pattern] = weights.GetValueOrDefault(pattern) + _sets[s].Weight;
        }

        return -weights.Values.Sum(w => w * Math.Log2(w));
    }
}
