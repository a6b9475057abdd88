using System.Collections.Immutable;
using ShopDiag.Diagnosis.Engines;
using ShopDiag.Diagnosis.Workups;

namespace ShopDiag.Diagnosis.Evidence;

/// <summary>Finds readings that speak against each other.</summary>
internal static class Contradictions
{
    /// <summary>Findings at one place that a contradiction rule names, and measurements whose own trials disagree; in order of place.</summary>
    public static ImmutableArray<Contradiction> In(Engine engine, ImmutableArray<Finding> findings, Knowledge knowledge) =>
    [
        .. knowledge.Contradictions.Where(rule => rule.Fits(engine)).SelectMany(rule => Between(rule, findings))
            .Where(c => !IsConfirmed(c, findings))
            .Concat(findings.Where(f => f.TrialsDisagree).Select(Within))
            .OrderBy(c => c.At).ThenBy(c => c.Retake, StringComparer.Ordinal).ThenBy(c => c.Because, StringComparer.Ordinal),
    ];

    private static IEnumerable<Contradiction> Between(ContradictionRule rule, ImmutableArray<Finding> findings)
    {
        foreach (var place in findings.Select(f => f.At).Distinct())
        {
            var matching = rule.All
                .Select(c => findings.FirstOrDefault(f => f.At == place && f.Aspect == c.Test && f.Outcome is { } o && c.Outcomes.Contains(o)))
                .ToArray();
            if (matching.All(f => f is not null))
            {
                yield return new Contradiction([.. matching.Select(f => AsProof(f!))], rule.Because, rule.Retake, place);
            }
        }
    }

    // The reading was taken again and came out the same: the fault comes and goes, and both readings are right.
    private static bool IsConfirmed(Contradiction contradiction, ImmutableArray<Finding> findings) => findings.Any(f =>
        f.Test == contradiction.Retake && f.At == contradiction.At && f.Trials.Length > 1 && f.Trials.All(t => t == f.Outcome));

    private static Contradiction Within(Finding finding) => new(
        [new ProofReading(finding.Test, finding.At, finding.Outcome ?? "", finding.Because)],
        $"The trials at {finding.At} disagree with each other.", finding.Test, finding.At);

    /// <summary>A finding as one reading of a proof.</summary>
    public static ProofReading AsProof(Finding finding) => new(finding.Test, finding.At, finding.Outcome ?? "", finding.Because);
}
