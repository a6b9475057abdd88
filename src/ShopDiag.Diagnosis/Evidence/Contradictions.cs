using System.Collections.Immutable;
using ShopDiag.Diagnosis.Engines;
using ShopDiag.Diagnosis.Workups;

namespace ShopDiag.Diagnosis.Evidence;

/// <summary>Finds readings that speak against each other.</summary>
internal static class Contradictions
{
    /// <summary>After so many trials one more does not settle what they disagree on.</summary>
    private const int Enough = 3;

    /// <summary>Findings at one place that a contradiction rule names, and measurements whose own trials disagree; in order of place.</summary>
    public static ImmutableArray<Contradiction> In(Engine engine, ImmutableArray<Finding> findings, Knowledge knowledge)
    {
        var told = findings.Where(f => f.Outcome is not null).ToLookup(f => f.Aspect, StringComparer.Ordinal);
        return
        [
            .. knowledge.Contradictions.Where(rule => rule.Fits(engine)).SelectMany(rule => Between(rule, told))
                .Where(c => !IsSettled(c, findings))
                .Concat(findings.Where(f => f.TrialsDisagree && f.Trials.Length < Enough).Select(Within))
                .OrderBy(c => c.At).ThenBy(c => c.Retake, StringComparer.Ordinal).ThenBy(c => c.Because, StringComparer.Ordinal),
        ];
    }

    private static IEnumerable<Contradiction> Between(ContradictionRule rule, ILookup<string, Finding> told)
    {
        var showing = rule.All.Select(c => told[c.Test].Where(f => c.Outcomes.Contains(f.Outcome!)).ToArray()).ToArray();
        foreach (var place in showing[0].Select(f => f.At).Distinct())
        {
            var matching = showing.Select(s => Array.Find(s, f => f.At == place)).ToArray();
            if (matching.All(f => f is not null))
            {
                yield return new Contradiction([.. matching.Select(f => AsProof(f!))], rule.Because, rule.Retake, place) { Speaking = [.. matching.Select(f => (f!.Aspect, f.At))] };
            }
        }
    }

    // The reading was taken again and came out the same, or two of three did: the fault comes and goes, and both readings are right. A third look would not help.
    private static bool IsSettled(Contradiction contradiction, ImmutableArray<Finding> findings) => findings.Any(f =>
        f.Test == contradiction.Retake && f.At == contradiction.At && f.IsBorneOut);

    private static Contradiction Within(Finding finding) => new(
        [new ProofReading(finding.Test, finding.At, finding.Outcome ?? "", finding.Because)],
        $"The trials at {finding.At} disagree with each other.", finding.Test, finding.At) { Speaking = [(finding.Aspect, finding.At)] };

    /// <summary>A finding as one reading of a proof.</summary>
    public static ProofReading AsProof(Finding finding) => new(finding.Test, finding.At, finding.Outcome ?? "", finding.Because);
}
