using System.Collections.Immutable;
using ShopDiag.Diagnosis.BenchTests;
using ShopDiag.Diagnosis.Evidence;
using ShopDiag.Diagnosis.Workups;

namespace ShopDiag.Diagnosis.NextStep;

/// <summary>Readings taken once on which much hangs: what speaks most for or against the likely causes. Taking one again may show that it was a slip.</summary>
internal static class SecondReadings
{
    /// <summary>Causes below this probability are not asked.</summary>
    private const double LeastProbability = 0.04;

    private const int MostCauses = 5;

    /// <summary>How many tests are doubted for one cause, those that speak most: one that several cylinders share speaks once.</summary>
    private const int EachCause = 6;

    /// <summary>What speaks less than this, in bits, is not worth a second reading.</summary>
    private const double LeastBits = 0.7;

    /// <summary>The candidates in a fixed order.</summary>
    public static IEnumerable<Candidate> Of(Workup workup, Knowledge knowledge, Belief belief, ImmutableArray<Finding> findings)
    {
        var once = Once(knowledge, findings);
        return Enumerable.Range(0, belief.Hypotheses.Length)
            .Where(h => !belief.Hypotheses[h].Cause.Unlisted && belief.Probability(h) >= LeastProbability)
            .OrderByDescending(belief.Probability).ThenBy(h => h).Take(MostCauses)
            .SelectMany(h => belief.Effects(h).Where(e => Math.Abs(e.Bits) >= LeastBits && once.Contains((e.Aspect, e.At)) && IsReadThere(knowledge, e)).DistinctBy(e => e.Test).Take(EachCause))
            .Select(e => (Test: knowledge.Test(e.Test)!, e.At))
            .Where(e => workup.CanTake(e.Test, e.At) && Candidates.IsMeaningful(e.Test, e.At, knowledge, findings))
            .Select(e => CandidateOf(workup, e.Test, e.At))
            .DistinctBy(c => (c.Test.Id, c.At));
    }

    private static HashSet<(string Aspect, Place At)> Once(Knowledge knowledge, IEnumerable<Finding> findings) =>
        [.. findings.Where(f => !f.IsBorneOut && f.Outcome is not null && !knowledge.MayBeTakenAgain(f)).Select(f => (f.Aspect, f.At))];

    // What is read at one place and speaks of others (trouble codes) does not come out otherwise the second time.
    private static bool IsReadThere(Knowledge knowledge, Effect effect) =>
        knowledge.Test(effect.Test) is { CodesField: null } test && test.Takes(effect.At.Kind) && test.Aspects.All(a => a.Scope == test.Scope);

    // One run of the engine gives all its places anew.
    private static Candidate CandidateOf(Workup workup, BenchTest test, Place at) => test.Compares && test.Fields.Any(f => f.SameForRound)
        ? new Candidate(test, Place.Engine, [.. test.PlacesOn(workup.Engine).Where(p => workup.CanTake(test, p))])
        : new Candidate(test, at, [at]);
}
