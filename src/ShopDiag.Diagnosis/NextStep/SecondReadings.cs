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
    private const int EachCause = 3;

    /// <summary>What speaks less than this, in bits, is not worth a second reading.</summary>
    private const double LeastBits = 0.7;

    /// <summary>The candidates in a fixed order.</summary>
    public static IEnumerable<Candidate> Of(Workup workup, Knowledge knowledge, Belief belief, IEnumerable<Finding> findings)
    {
        var once = findings.Where(f => (f.Trials.IsEmpty || f.Trials.Distinct().Skip(1).Any()) && f.Outcome is not null && !knowledge.MayBeTakenAgain(f)).Select(f => (f.Aspect, f.At)).ToHashSet();
        return Enumerable.Range(0, belief.Hypotheses.Length)
            .Where(h => !belief.Hypotheses[h].Cause.Unlisted && belief.Probability(h) >= LeastProbability)
            .OrderByDescending(belief.Probability).ThenBy(h => h).Take(MostCauses)
            .SelectMany(h => belief.Effects(h).Where(e => Math.Abs(e.Bits) >= LeastBits && once.Contains((e.Aspect, e.At)) && IsReadThere(e)).Take(EachCause))
            .Select(e => (Test: knowledge.Test(e.Test)!, e.At))
            .Where(e => e.Test.Tools.All(workup.Shop.Owns))
            .Select(e => IsOneRun(e.Test) ? new Candidate(e.Test, Place.Engine, [.. e.Test.PlacesOn(workup.Engine)]) : new Candidate(e.Test, e.At, [e.At]))
            .DistinctBy(c => (c.Test.Id, c.At));

        // One run of the engine gives all its places anew.
        static bool IsOneRun(BenchTest test) => test.Compares && test.Fields.Any(f => f.SameForRound);

        // What is read at one place and speaks of others (trouble codes, what the customer says) does not come out otherwise the second time.
        bool IsReadThere(Effect effect) => knowledge.Test(effect.Test) is { } test && test.Takes(effect.At.Kind) && test.Aspects.All(a => a.Scope == test.Scope) && test.ConditionsField is null && test.CodesField is null;
    }
}
