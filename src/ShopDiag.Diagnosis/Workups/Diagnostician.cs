using System.Collections.Immutable;
using System.Globalization;
using ShopDiag.Diagnosis.BenchTests;
using ShopDiag.Diagnosis.Evidence;

namespace ShopDiag.Diagnosis.Workups;

/// <summary>The way in: a workup goes in, an assessment comes out. Same readings, same answer, in any order of entry.</summary>
public static class Diagnostician
{
    private static readonly ImmutableHashSet<(string Cause, Place At)> NothingRepaired = [];

    /// <summary>Assesses a workup with the given knowledge.</summary>
    public static Assessment Assess(Workup workup, Knowledge knowledge)
    {
        ArgumentNullException.ThrowIfNull(workup);
        ArgumentNullException.ThrowIfNull(knowledge);
        var before = Look(workup, knowledge, ReadingJudge.Judge(workup, knowledge, Stage.Before), NothingRepaired);
        var after = ReadingJudge.Judge(workup, knowledge, Stage.After);
        if (after.IsEmpty)
        {
            return NeverSilent(before.ToAssessment(workup, knowledge), knowledge);
        }

        if (RepairOutcome.ShowsTrouble(after, knowledge))
        {
            return GoOn(workup, knowledge, before, after);
        }

        // Where nothing is known to have been repaired, nothing is borne out.
        var repaired = Repaired(workup, before);
        var borneOut = repaired.Count == 0 ? before : before.Since(Belief.Since(workup, knowledge, before.Findings, after, repaired));
        var good = RepairOutcome.IsGood(workup.Engine, before, after, knowledge);
        var answer = before.ToAssessment(workup, knowledge);
        return answer with
        {
            Causes = borneOut.Ranked(),
            CommonBits = borneOut.CommonBits,
            Unlisted = borneOut.Unlisted,
            Next = good ? RepairOutcome.Drive(workup, knowledge) : [.. answer.Next.Where(n => n.Repair is null)],
            Cylinders = CylinderStates.Of(workup.Engine, after, knowledge),
            Findings = before.Findings.AddRange(after),
            Warnings = answer.Warnings.Add(good
                ? "The readings after the repair show nothing wrong any more."
                : "Nothing wrong has been read after the repair so far, but the repaired place has not been checked yet."),
        };
    }

    /// <summary>
    /// After a repair that did not end the trouble: what was read after it counts, what was read before it counts only where the repair did not reach,
    /// and what was repaired is unlikely to be the cause again.
    /// </summary>
    private static Assessment GoOn(Workup workup, Knowledge knowledge, Look before, ImmutableArray<Finding> after)
    {
        var look = Look(workup, knowledge, RepairOutcome.StillCounting(workup.Engine, before, after), Repaired(workup, before));
        // The engine has been closed up again, and what is read from here on is read after the repair.
        var assessment = NeverSilent(look.ToAssessment(workup with { Readings = [.. workup.Readings.Where(r => r.Stage == Stage.After)] }, knowledge), knowledge);
        return assessment with
        {
            Next = [.. assessment.Next.Select(n => n with { Stage = Stage.After })],
            Findings = before.Findings.AddRange(after),
            Warnings = assessment.Warnings.Add("The readings after the repair still show trouble: the workup goes on with what is left."),
        };
    }

    // Where nothing is proven and nothing is left to advise, that is said, and what the customer should know.
    private static Assessment NeverSilent(Assessment answer, Knowledge knowledge)
    {
        if (!answer.Next.IsEmpty || answer.Conclusion is not null)
        {
            return answer;
        }

        var likeliest = answer.Causes[0];
        var words = string.Create(CultureInfo.InvariantCulture, $"Nothing that is left to read tells more. Likeliest is {knowledge.Cause(likeliest.Cause)!.Title.ToLowerInvariant()} ({likeliest.At}, {100 * likeliest.Probability:0} %), but it is not proven, and no repair is advised on it. ")
            + "Tell the customer so in writing, and agree on what comes next before anything is taken apart or sold: looking again when the trouble shows itself, or a second opinion.";
        return answer with { Warnings = answer.Warnings.Insert(0, words) };
    }

    private static HashSet<(string Cause, Place At)> Repaired(Workup workup, Look before) =>
        [.. before.Proven.Select(p => (p.Cause.Id, p.At)), .. workup.TriedRepairs.Select(t => (t.Cause, t.At))];

    private static Look Look(
        Workup workup, Knowledge knowledge, ImmutableArray<Finding> findings, IReadOnlySet<(string Cause, Place At)> repaired) => new(
        findings,
        Belief.From(workup, knowledge, findings, repaired),
        new Proofs(workup.Engine, knowledge, findings),
        Contradictions.In(workup.Engine, findings, knowledge),
        h => SameRepair.IsMended(knowledge, repaired, h.Cause, h.At));
}
