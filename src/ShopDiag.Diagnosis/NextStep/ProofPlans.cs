using System.Collections.Immutable;
using ShopDiag.Diagnosis.BenchTests;
using ShopDiag.Diagnosis.Evidence;
using ShopDiag.Diagnosis.Workups;

namespace ShopDiag.Diagnosis.NextStep;

/// <summary>One reading that a proof still lacks.</summary>
/// <param name="Test">The test.</param>
/// <param name="Work">Its bench work: a whole round where the test compares.</param>
/// <param name="Spot">The aspect and the place that must show it.</param>
/// <param name="Allowed">True for the outcomes that the proof takes.</param>
/// <param name="Chance">Probability that it shows one of them when the cause is there.</param>
/// <param name="ByChance">The same on a sound engine.</param>
/// <param name="Again">True when it has been read once and is wanted a second time.</param>
internal sealed record Wanted(BenchTest Test, BenchWork Work, Spot Spot, bool[] Allowed, double Chance, double ByChance, bool Again);

/// <summary>What could prove one hypothesis: the ways, each with the readings it still lacks; none where no way is open.</summary>
/// <param name="Hypothesis">Its number in the belief.</param>
/// <param name="Ways">The ways.</param>
internal sealed record ProofPlan(int Hypothesis, ImmutableArray<ImmutableArray<Wanted>> Ways);

/// <summary>Works out what could still prove the likely causes.</summary>
internal sealed class ProofPlans(Workup workup, Knowledge knowledge, Belief belief, Proofs proofs, BenchTime time, Spots spots, Companions companions)
{
    /// <summary>From this probability on a reading that stands in the way of a proof may be doubted and taken again.</summary>
    private const double LeastDoubting = 0.35;

    /// <summary>The plan of a hypothesis with the tools that the shop owns and the tests that can be taken on this car.</summary>
    public ProofPlan Of(int hypothesis)
    {
        var h = belief.Hypotheses[hypothesis];
        var ways = h.Cause.ProofOn(workup.Engine)
            .Select(rule => proofs.Missing(rule, h.At) ?? (belief.Probability(hypothesis) >= LeastDoubting ? proofs.Missing(rule, h.At, doubting: true) : null))
            .OfType<IReadOnlyList<(OutcomeAt Condition, Place At)>>()
            .Where(missing => missing.All(m => CanBeRead(m.Condition, m.At)))
            .Select(missing => missing.Select(m => WantedFor(hypothesis, m.Condition, m.At)).ToImmutableArray());
        return new ProofPlan(hypothesis, [.. ways]);
    }

    private bool CanBeRead(OutcomeAt condition, Place at)
    {
        var (test, aspect) = knowledge.Aspect(condition.Test)!.Value;
        return aspect.Scope == test.Scope ? workup.CanTake(test, at) : workup.CanTake(test);
    }

    private Wanted WantedFor(int hypothesis, OutcomeAt condition, Place at)
    {
        var (test, aspect) = knowledge.Aspect(condition.Test)!.Value;
        var allowed = aspect.Outcomes.Select(o => condition.Outcomes.Contains(o.Id)).ToArray();
        var (read, member) = belief.SeenAt(aspect.Id, at);
        var seen = read.Afresh(member);
        var speaker = belief.SpeakerOf(hypothesis, seen.Index, at);
        return new Wanted(test, time.Of(test, PlacesOf(test, aspect, at)), spots.Of(aspect.Id, at), allowed, Chance(seen, member, speaker, belief.ShowsMore(hypothesis, seen.Index, speaker), allowed), Chance(seen, member, null, 1, allowed), seen.Findings[member] is not null);
    }

    // A comparing test means nothing at one cylinder alone; what is read at another scope (trouble codes) is taken where it is read.
    private ImmutableArray<Place> PlacesOf(BenchTest test, Aspect aspect, Place at)
    {
        if (aspect.Scope == test.Scope && test is { CompareWith: > 0, Scope: TestScope.Cylinder } && companions.Missing(test, at) is { IsEmpty: false } missing)
        {
            return missing;
        }

        return (test.Compares && test.Scope == TestScope.Cylinder) || aspect.Scope != test.Scope ? [.. test.PlacesOn(workup.Engine).Where(p => workup.CanTake(test, p))] : [at];
    }

    // A cause that most likely sleeps, or is slight on all its cylinders, does not show itself to a reading that needs more of it.
    private static double Chance(SeenGroup seen, int member, Speaker? speaker, double awake, bool[] allowed) => speaker is { Sleeps: true } or { Varies: true }
        ? (awake * Chance(seen, member, speaker, allowed)) + ((1 - awake) * Chance(seen, member, speaker.Less, allowed))
        : Chance(seen, member, speaker, allowed);

    private static double Chance(SeenGroup seen, int member, Speaker? speaker, bool[] allowed)
    {
        var (before, chance) = (seen.Joint(speaker, (Speaker?)null), 0.0);
        for (var o = 0; o < allowed.Length; o++)
        {
            chance += allowed[o] ? seen.WithOutcome(member, o).Joint(speaker, (Speaker?)null) / before : 0;
        }

        return chance;
    }
}
