using System.Collections.Immutable;
using ShopDiag.Diagnosis.BenchTests;
using ShopDiag.Diagnosis.Causes;
using ShopDiag.Diagnosis.Evidence;
using ShopDiag.Diagnosis.NextStep;

namespace ShopDiag.Diagnosis.Workups;

/// <summary>One look at a set of findings: what they make likely, what they prove, what they contradict.</summary>
internal sealed class Look
{
    private readonly Belief _belief;
    private readonly Proofs _proofs;
    private readonly Func<Hypothesis, bool> _isRepaired;
    private readonly ImmutableArray<Contradiction> _contradictions;
    private readonly ImmutableArray<(Cause Cause, Place At, CompleteProof Proof)> _proven;

    /// <summary>Works it out.</summary>
    /// <param name="findings">The findings.</param>
    /// <param name="belief">What they make likely.</param>
    /// <param name="proofs">What they prove.</param>
    /// <param name="contradictions">What they contradict.</param>
    /// <param name="isRepaired">True of what was repaired already and did not end the trouble.</param>
    public Look(ImmutableArray<Finding> findings, Belief belief, Proofs proofs, ImmutableArray<Contradiction> contradictions, Func<Hypothesis, bool> isRepaired)
    {
        (Findings, _belief, _proofs, _contradictions, _isRepaired) = (findings, belief, proofs, contradictions, isRepaired);
        // Of causes at one place that one new part mends, the likeliest is named: it is one repair.
        _proven = SameRepair.Likely(belief, Proofs.LeastProbability)
            .Where(h => belief.Probability(h) >= Proofs.LeastProbabilityAgain || !isRepaired(belief.Hypotheses[h]))
            .Select(h => (Belief: belief.Probability(h), belief.Hypotheses[h].Cause, belief.Hypotheses[h].At))
            .Select(h => (h.Belief, h.Cause, h.At, Proof: proofs.Complete(h.Cause, h.At, IsContradicted)))
            .Where(h => h.Proof is not null)
            .OrderByDescending(h => h.Belief)
            .Aggregate(ImmutableArray<(Cause Cause, Place At, CompleteProof Proof)>.Empty, (kept, h) =>
                kept.Any(k => SameRepair.Reaches(k.Cause, k.At, h.Cause, h.At) && (k.At == h.At || h.Belief < Proofs.LeastProbability)) ? kept : kept.Add((h.Cause, h.At, h.Proof!)));
    }

    private Look(Look before, Belief belief) =>
        (Findings, _belief, _proofs, _contradictions, _isRepaired, _proven) = (before.Findings, belief, before._proofs, before._contradictions, before._isRepaired, before._proven);

    /// <summary>The same look, believed as what was read after the repair bears it out; what is proven stays what it was.</summary>
    public Look Since(Belief belief) => new(this, belief);

    /// <summary>What the logarithm of every posterior loses so that all add up to 1, in bits.</summary>
    public double CommonBits => _belief.CommonBits;

    /// <summary>Probability of what no cause of the knowledge describes.</summary>
    public double Unlisted => Enumerable.Range(0, _belief.Hypotheses.Length).Where(h => _belief.Hypotheses[h].Cause.Unlisted).Sum(_belief.Probability);

    /// <summary>What the readings came to.</summary>
    public ImmutableArray<Finding> Findings { get; }

    /// <summary>The proven causes, most likely first.</summary>
    public IEnumerable<(Cause Cause, Place At)> Proven => _proven.Select(p => (p.Cause, p.At));

    /// <summary>The whole answer.</summary>
    public Assessment ToAssessment(Workup workup, Knowledge knowledge)
    {
        var conclusion = Conclude(workup);
        return new Assessment
        {
            Id = workup.Id,
            Cylinders = CylinderStates.Of(workup.Engine, Findings, knowledge),
            Causes = Ranked(),
            CommonBits = CommonBits,
            Unlisted = Unlisted,
            Next = conclusion is null
                ? new NextStepChooser(workup, knowledge, _belief, Findings, _proofs).Choose(_contradictions, _isRepaired)
                : AfterConclusion(conclusion, workup, knowledge),
            Conclusion = conclusion,
            Contradictions = _contradictions,
            Findings = Findings,
            Warnings = Warnings(workup, knowledge),
        };
    }

    /// <summary>Cautions and remarks on the whole workup.</summary>
    public ImmutableArray<string> Warnings(Workup workup, Knowledge knowledge)
    {
        var warnings = workup.Remarks.ToBuilder();
        if (_proven.IsEmpty)
        {
            warnings.AddRange(new EarlierWork(workup.Engine, knowledge, workup.EarlierRepairs).LooksFirst());
        }

        if (workup.Concern.Lamp == Lamp.Flashing)
        {
            warnings.Add("The lamp flashes: a misfire that can overheat and ruin the catalytic converter, and a hot converter can start a fire. Keep running time short and do not drive it on.");
        }

        if (Findings.Where(f => f.ByDefaultLimit).Select(f => knowledge.Test(f.Test)!.Title).Distinct().ToArray() is { Length: > 0 } titles)
        {
            warnings.Add($"Judged by general limits, not the maker's, for: {string.Join(", ", titles)}. Enter the maker's figures with the engine.");
        }

        return warnings.ToImmutable();
    }

    private bool IsContradicted(CompleteProof proof) => _contradictions.Any(c =>
        c.Speaking.Any(s => proof.Findings.Any(f => f.Aspect == s.Aspect && f.At == s.At)));

    /// <summary>Every cause at every place, most likely first.</summary>
    public ImmutableArray<RankedCause> Ranked() =>
    [
        .. Enumerable.Range(0, _belief.Hypotheses.Length)
            .Where(h => !_belief.Hypotheses[h].Cause.Unlisted)
            .OrderByDescending(_belief.Probability)
            .ThenBy(h => _belief.Hypotheses[h].Cause.Id, StringComparer.Ordinal).ThenBy(h => _belief.Hypotheses[h].At)
            .Select(h => new RankedCause
            {
                Cause = _belief.Hypotheses[h].Cause.Id,
                At = _belief.Hypotheses[h].At,
                Probability = _belief.Probability(h),
                PriorBits = Math.Log2(_belief.Hypotheses[h].Base),
                Earlier = _belief.Hypotheses[h].Earlier,
                PairBits = _belief.PairBits(h),
                Proven = _proven.Any(p => p.Cause.Id == _belief.Hypotheses[h].Cause.Id && p.At == _belief.Hypotheses[h].At),
                Evidence = _belief.Effects(h),
            }),
    ];

    private Conclusion? Conclude(Workup workup) => _proven.IsEmpty ? null : new Conclusion(
        [.. _proven.Select(p => new ProvenCause(p.Cause.Id, p.At))],
        [.. _proven.SelectMany(p => p.Proof.Findings.Select(f => Contradictions.AsProof(f))).Distinct()],
        RepairPlan.For(workup.Engine, [.. Proven]));

    private const string RepairCaution = "Engine cool and ignition off before hands go in; the maker's procedure, torques and safety rules come first.";

    private ImmutableArray<NextStepAdvice> AfterConclusion(Conclusion conclusion, Workup workup, Knowledge knowledge)
    {
        var at = conclusion.Causes[0].At;
        var repair = new NextStepAdvice
        {
            Repair = conclusion.Repair, At = at, Minutes = conclusion.Repair.LabourMinutes, Because = "The cause is proven.",
            Cautions = [RepairCaution, .. _proven.SelectMany(p => p.Cause.Repair.Cautions).Distinct()],
        };
        var checks = conclusion.Repair.Check.Select(id => knowledge.Test(id)!)
            .Select(test => (Test: test, At: test.Compares || test.Scope == TestScope.Engine ? Place.Engine : at))
            .Where(check => !workup.IsBarred(check.Test, check.At))
            .Select(check => new NextStepAdvice
            {
                Test = check.Test.Id,
                At = check.At,
                Stage = Stage.After,
                Minutes = check.Test.FirstMinutesOn(workup.Engine),
                Because = "Taken again after the repair, it proves that the trouble is gone.",
                Cautions = check.Test.Cautions,
            });
        return [repair, .. checks];
    }
}
