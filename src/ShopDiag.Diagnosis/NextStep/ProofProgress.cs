using ShopDiag.Diagnosis.BenchTests;
using ShopDiag.Diagnosis.Engines;
using ShopDiag.Diagnosis.Evidence;

namespace ShopDiag.Diagnosis.NextStep;

/// <summary>How far a test would bring the proof of what is likely.</summary>
internal sealed class ProofProgress
{
    /// <summary>Causes below this probability are not worth a proof yet.</summary>
    private const double LeastProbability = 0.02;

    private readonly List<(double Probability, Hypothesis Cause, List<IReadOnlyList<(OutcomeAt Condition, Place At)>> Ways)> _open = [];
    private readonly Belief _belief;

    public ProofProgress(Engine engine, Belief belief, Proofs proofs)
    {
        _belief = belief;
        for (var h = 0; h < belief.Hypotheses.Length; h++)
        {
            var hypothesis = belief.Hypotheses[h];
            if (belief.Probability(h) >= LeastProbability)
            {
                var ways = hypothesis.Cause.ProofOn(engine).Select(r => proofs.Missing(r, hypothesis.At)).OfType<IReadOnlyList<(OutcomeAt, Place)>>()
                    .Where(m => m.Count > 0).ToList();
                _open.Add((belief.Probability(h), hypothesis, ways));
            }
        }
    }

    /// <summary>
    /// Expected share of a proof that readings of the test at the places bring, from 0 to 1: for each cause its probability times the chance that
    /// the reading comes out as the proof asks, times the share of what the proof still lacks.
    /// </summary>
    public double Share(BenchTest test, IReadOnlyCollection<Place> places) =>
        Math.Min(1, _open.Sum(o => o.Probability * o.Ways.Select(way => ShareOf(way, o.Cause, test, places)).DefaultIfEmpty(0).Max()));

    private double ShareOf(IReadOnlyList<(OutcomeAt Condition, Place At)> missing, Hypothesis cause, BenchTest test, IReadOnlyCollection<Place> places)
    {
        var brought = missing.Where(m => test.Aspects.Any(a => a.Id == m.Condition.Test) && places.Contains(m.At)).ToArray();
        return brought.Length == 0 ? 0 : brought.Average(m => ChanceOf(m.Condition, m.At, cause)) * brought.Length / missing.Count;
    }

    private double ChanceOf(OutcomeAt condition, Place at, Hypothesis cause)
    {
        var shows = _belief.Model.Shown(cause, condition.Test, at)?.Shows ?? _belief.Model.Healthy(condition.Test);
        return condition.Outcomes.Sum(o => shows[_belief.Model.IndexOf(condition.Test, o)]);
    }
}
