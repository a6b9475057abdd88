using System.Collections.Immutable;
using System.Globalization;
using ShopDiag.Diagnosis.BenchTests;
using ShopDiag.Diagnosis.Causes;
using ShopDiag.Diagnosis.Evidence;
using ShopDiag.Diagnosis.Workups;

namespace ShopDiag.Diagnosis.NextStep;

/// <summary>
/// Chooses what to do next: the test that saves most of the expected bench minutes to a proven cause for each minute spent on it. Minutes count access, what is
/// already open and the risk of the work. Ties go to the order of the sheet.
/// </summary>
internal sealed class NextStepChooser(Workup workup, Knowledge knowledge, Belief belief, ImmutableArray<Finding> findings, Proofs proofs)
{
    /// <summary>How many suggestions are given.</summary>
    public const int Suggestions = 6;

    /// <summary>A test that is expected to save less than this for each minute spent on it has no use.</summary>
    private const double LeastWorth = 0.03;

    /// <summary>Where no test is expected to save this much for each minute spent on it, the search is as good as over: what is probable and small may be repaired to see.</summary>
    private const double WorthGoingOn = 0.3;

    /// <summary>What a reading must speak for a cause, in bits, before its repair may be tried.</summary>
    private const double LeastSpeaking = 0.3;

    /// <summary>What a test must still tell, in bits, to be suggested where none is worth its minutes: one that tells little (in the words of the advice) is not.</summary>
    private const double LeastTelling = 0.05;

    /// <summary>How many suggestions are left where none is worth its minutes.</summary>
    private const int LastResorts = 2;

    /// <summary>The suggestions, best first.</summary>
    /// <param name="contradictions">What the readings contradict.</param>
    /// <param name="isRepaired">True of what was repaired already: it is not tried again.</param>
    public ImmutableArray<NextStepAdvice> Choose(ImmutableArray<Contradiction> contradictions, Func<Hypothesis, bool> isRepaired)
    {
        var time = new BenchTime(workup.Engine, knowledge);
        var opened = time.After(workup.Readings.Select(r => (knowledge.Test(r.Test)!, r.At)));
        var spots = new Spots(belief);
        var companions = new Companions(workup, belief, time, opened);
        var plans = new ProofPlans(workup, knowledge, belief, proofs, time, spots, companions);
        var ahead = new LookAhead(workup, knowledge, belief, time, plans, companions, spots, findings);
        var rated = ahead.Rate(opened);
        return [.. TryingOut(ahead, opened, !rated.Any(r => r.Worth >= WorthGoingOn), isRepaired), .. contradictions.Where(c => workup.CanTake(knowledge.Test(c.Retake)!, c.At)).Select(c => Retake(c, time, opened)).DistinctBy(a => (a.Test, a.At))
            .Concat(Useful(rated).Select(Advice)).DistinctBy(a => (a.Test, a.At)).Take(Suggestions)];
    }

    // As long as nothing is proven something is left to do: where no test is worth its minutes, the best of them all the same.
    private static IEnumerable<Rated> Useful(IReadOnlyList<Rated> rated) =>
        rated.Any(r => r.Worth >= LeastWorth) ? rated.Where(r => r.Worth >= LeastWorth) : rated.Where(r => r.Bits >= LeastTelling).Take(LastResorts);

    // Repairing and seeing, where that is cheaper than a proof and no guess: of the repairs that probably help the one that is expected to save most, named after the likeliest
    // of the causes that it mends.
    private IEnumerable<NextStepAdvice> TryingOut(LookAhead ahead, Opened opened, bool searchIsOver, Func<Hypothesis, bool> isRepaired) => SameRepair.Likely(belief, UnprovenRepair.LeastHelp(searchIsOver))
        .Where(h => !belief.Hypotheses[h].Cause.Alone && !isRepaired(belief.Hypotheses[h]))
        .Where(h => !belief.Hypotheses[h].Cause.Repair.FindFirst || (searchIsOver && belief.Probability(h) >= UnprovenRepair.AllButCertain))
        .GroupBy(h => (SameRepair.RenewsTheSet(belief.Hypotheses[h].Cause) ? Place.Engine : belief.Hypotheses[h].At, SameRepair.MainPart(belief.Hypotheses[h].Cause)), (_, same) => same.MaxBy(belief.Probability))
        .Select(h => Trial(h, ahead.MinutesToProve(h, opened)))
        .Where(t => WasLookedAt(t.Hypothesis) || (searchIsOver && belief.Probability(t.Hypothesis) >= UnprovenRepair.AllButCertain))
        .Where(t => t.IsCheaper || (searchIsOver && t.IsCheaperThanGoingOn))
        .OrderByDescending(t => t.Saved).ThenByDescending(t => belief.Probability(t.Hypothesis)).ThenBy(t => t.Hypothesis)
        .Take(1)
        .Select(Advice);

    // Codes, counts, a balance and what was felt say which cylinder it is. A part is not sold on that alone: something must have been read that speaks for this cause itself.
    private bool WasLookedAt(int hypothesis) => belief.Effects(hypothesis).Any(e => e.Bits >= LeastSpeaking && knowledge.Test(e.Test) is { CodesField: null }
        && knowledge.Aspect(e.Aspect)!.Value.Aspect.Outcomes.All(o => o.State is null)
        && findings.Any(f => f.Aspect == e.Aspect && f.At == e.At && !f.Said));

    private UnprovenTrial Trial(int hypothesis, double proof)
    {
        var (cause, at) = (belief.Hypotheses[hypothesis].Cause, belief.Hypotheses[hypothesis].At);
        return new UnprovenTrial(hypothesis, SameRepair.Probability(belief, cause, at), RepairPlan.For(workup.Engine, [(cause, at)]), cause.Repair.PartsInMinutes, proof);
    }

    private NextStepAdvice Advice(UnprovenTrial trial)
    {
        var (cause, at) = (belief.Hypotheses[trial.Hypothesis].Cause, belief.Hypotheses[trial.Hypothesis].At);
        return new NextStepAdvice
        {
            Repair = trial.Repair,
            Unproven = true,
            At = at,
            Minutes = trial.Repair.LabourMinutes,
            Because = string.Create(CultureInfo.InvariantCulture, $"Not proven, but likely ({100 * trial.Helps:0} %): repairing and seeing is expected to lose {trial.Waste:0} minutes, {Instead(trial)}.{LookFirst(trial, cause)} The customer must know that it is not proven."),
            Cautions = ["Engine cool and ignition off before hands go in; the maker's procedure, torques and safety rules come first.", .. cause.Repair.Cautions],
        };
    }

    private static string Instead(UnprovenTrial trial) => trial.IsCheaper
        ? string.Create(CultureInfo.InvariantCulture, $"a proof takes about {trial.ProofMinutes:0}")
        : "and no test that is left is expected to save its own minutes";

    // What was not read is seen once the work has begun.
    private static string LookFirst(UnprovenTrial trial, Cause cause) => (cause.Repair.FindFirst, trial.IsLarge) switch
    {
        (true, _) => " Before parts are ordered, find the spot first.",
        (_, true) => " It is a large repair: look at the parts once they can be seen, before parts are ordered.",
        _ => "",
    };

    private NextStepAdvice Advice(Rated rated) => new()
    {
        Test = rated.Candidate.Test.Id,
        At = rated.Candidate.At,
        Minutes = rated.Minutes,
        Gain = rated.Bits,
        ToProof = rated.ToProof,
        Because = Why(rated),
        Cautions = CautionsOf(rated.Candidate.Test),
    };

    private NextStepAdvice Retake(Contradiction contradiction, BenchTime time, Opened opened)
    {
        var test = knowledge.Test(contradiction.Retake)!;
        return new NextStepAdvice
        {
            Test = test.Id,
            At = contradiction.At,
            Minutes = time.Minutes(opened, test, [contradiction.At]),
            Because = $"Take it again: {contradiction.Because}",
            Cautions = CautionsOf(test),
        };
    }

    private ImmutableArray<string> CautionsOf(BenchTest test) => workup.Engine.Spec.Hybrid
        ? test.Cautions.Add("Hybrid: orange cables carry lethal voltage and the engine can start by itself. Follow the maker's procedure to make it safe.")
        : test.Cautions;

    private string Why(Rated rated)
    {
        var likely = Likely().ToArray();
        var spoken = likely.Where(h => SpeaksOf(rated.Candidate, h)).Take(3).ToArray();
        var aim = (spoken.Length, spoken.Length == likely.Length) switch
        {
            (0, _) => "It narrows down what is left.",
            (_, true) => $"It decides on {string.Join(", ", spoken.Select(Words))}.",
            _ => $"It tells apart: {string.Join(", ", spoken.Select(Words))}.",
        };
        var much = rated.Bits switch
        {
            >= 1 => "tells a great deal",
            >= 0.3 => "tells a good deal",
            >= 0.05 => "tells something",
            _ => "tells little",
        };
        return string.Create(CultureInfo.InvariantCulture, $"{(IsRead(rated.Candidate) ? "Take it again, since much hangs on this reading. " : "")}{aim}{Beside(rated.Candidate)} {Math.Max(1, rated.Minutes):0} minutes; {much}.");
    }

    // A suspected cylinder that is compared with some others, in words.
    private static string Beside(Candidate candidate)
    {
        if (candidate.Tells.Length > 1 || candidate.At == Place.Engine)
        {
            return "";
        }

        var suspect = candidate.Tells[0];
        var others = string.Join(" and ", candidate.Places.Where(p => p != suspect));
        return (candidate.At == suspect, others.Length) switch
        {
            (false, _) => $" It is read to compare {suspect} with.",
            (true, 0) => "",
            (true, _) => $" Read {others} as well, to compare.",
        };
    }

    private bool IsRead(Candidate candidate) =>
        findings.Any(f => f.Test == candidate.Test.Id && f.Outcome is not null && candidate.Places.Contains(f.At) && !knowledge.MayBeTakenAgain(f));

    private IEnumerable<int> Likely() => Enumerable.Range(0, belief.Hypotheses.Length)
        .Where(h => !belief.Hypotheses[h].Cause.Unlisted && belief.Probability(h) >= 0.02)
        .OrderByDescending(belief.Probability).ThenBy(h => h);

    private bool SpeaksOf(Candidate candidate, int hypothesis) => candidate.Tells.Any(p =>
        candidate.Test.Aspects.Any(a => a.Scope == candidate.Test.Scope && belief.SpeaksOf(hypothesis, a.Id, p)));

    private string Words(int hypothesis) => $"{belief.Hypotheses[hypothesis].Cause.Title.ToLowerInvariant()} ({belief.Hypotheses[hypothesis].At})";
}
