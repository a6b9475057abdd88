using System.Collections.Immutable;
using ShopDiag.Diagnosis.BenchTests;
using ShopDiag.Diagnosis.Causes;
using ShopDiag.Diagnosis.Engines;
using ShopDiag.Diagnosis.Workups;

namespace ShopDiag.Diagnosis.Evidence;

/// <summary>Whether the readings that a cause's entry names as proof are there.</summary>
internal sealed class Proofs(Engine engine, Knowledge knowledge, ImmutableArray<Finding> findings)
{
    /// <summary>
    /// A proof counts only while the cause is plainly likelier than all else together: when the rest of the readings speak so strongly against it,
    /// a reading is wrong and must be taken again. Common practice.
    /// </summary>
    public const double LeastProbability = 0.6;

    /// <summary>
    /// What was repaired and did not end the trouble is named again only when it is all but certain: that a new part is faulty too, or badly fitted, is seldom. Common practice.
    /// </summary>
    public const double LeastProbabilityAgain = 0.9;

    private readonly ILookup<string, Finding> _byAspect = findings.Where(f => f.Outcome is not null).ToLookup(f => f.Aspect);

    /// <summary>The first proof of a cause at a place that is complete and that nothing speaks against, or null.</summary>
    public CompleteProof? Complete(Cause cause, Place at, Func<CompleteProof, bool> isContradicted) => cause.ProofOn(engine)
        .Where(rule => !IsKeptOpen(rule, at))
        .Select(rule => new CompleteProof(rule, [.. rule.All.SelectMany(c => Matching(c, at) ?? [])], rule.All.All(c => Matching(c, at) is not null)))
        .FirstOrDefault(p => p.IsComplete && !isContradicted(p));

    /// <summary>The conditions of a proof that still lack a reading, or null when a reading already speaks against one of them.</summary>
    /// <param name="rule">The proof.</param>
    /// <param name="at">The place of the cause.</param>
    /// <param name="doubting">True to suppose that one reading that stands in the way (all that it showed), and was not confirmed, was a slip: it then lacks a reading that shows otherwise.</param>
    public IReadOnlyList<(OutcomeAt Condition, Place At)>? Missing(ProofRule rule, Place at, bool doubting = false)
    {
        var missing = new List<(OutcomeAt, Place)>();
        (string Test, Place At)? doubted = null;
        foreach (var (condition, finding) in KeepingOpen(rule, at))
        {
            if (!MayDoubt(finding))
            {
                return null;
            }

            doubted = (finding.Test, finding.At);
            missing.Add((Otherwise(condition), finding.At));
        }

        foreach (var condition in rule.All)
        {
            if (condition.AtLeast > 0)
            {
                if (StillToShow(condition, at) is not { } open)
                {
                    return null;
                }

                missing.AddRange(open.Select(place => (condition, place)));
                continue;
            }

            foreach (var place in PlacesOf(condition, at))
            {
                var found = _byAspect[condition.Test].Where(f => f.At == place).ToArray();
                if (found.Any(f => !knowledge.MayBeTakenAgain(f)) && !found.Any(f => condition.Outcomes.Contains(f.Outcome!)))
                {
                    if (!found.All(MayDoubt))
                    {
                        return null;
                    }

                    doubted = (found[0].Test, found[0].At);
                }

                if (!found.Any(f => Shows(f, condition)))
                {
                    missing.Add((condition, place));
                }
            }
        }

        return missing;

        bool MayDoubt(Finding finding) => doubting && !IsBeyondDoubt(finding) && (doubted is null || doubted == (finding.Test, finding.At));
    }

    /// <summary>
    /// The findings that meet a condition, or null when it is not met. In the place itself one reading of the whole place must show it,
    /// or every cylinder (bank) of it, or as many as the condition names; beside the place one must, and none may show otherwise.
    /// </summary>
    private Finding[]? Matching(OutcomeAt condition, Place at)
    {
        if (condition.Where == Relation.Here)
        {
            return Showing(condition, [at]) ?? (condition.AtLeast > 0 ? SomeShowing(condition, at) : Showing(condition, PartsOf(condition, at)));
        }

        var beside = _byAspect[condition.Test].Where(f => Relations.Of(engine, f.At, at) == condition.Where).ToArray();
        return beside.Length > 0 && beside.All(f => Shows(f, condition)) ? beside : null;
    }

    private static bool Shows(Finding finding, OutcomeAt condition) => condition.Outcomes.Contains(finding.Outcome!)
        && (!condition.Twice || finding.Trials.Count(condition.Outcomes.Contains) >= 2);

    private bool IsKeptOpen(ProofRule rule, Place at) => KeepingOpen(rule, at).Any();

    private IEnumerable<(OutcomeAt Condition, Finding Finding)> KeepingOpen(ProofRule rule, Place at) =>
        from condition in rule.Unless
        from finding in _byAspect[condition.Test]
        where condition.Outcomes.Contains(finding.Outcome!) && Relations.Of(engine, finding.At, at) == condition.Where
        select (condition, finding);

    // What is stored does not come out otherwise the second time.
    private bool IsBeyondDoubt(Finding finding) => finding.IsBorneOut || knowledge.Test(finding.Test) is not { CodesField: null };

    private OutcomeAt Otherwise(OutcomeAt condition) =>
        condition with { Outcomes = [.. knowledge.Aspect(condition.Test)!.Value.Aspect.Outcomes.Select(o => o.Id).Where(o => !condition.Outcomes.Contains(o))] };

    private Finding[]? Showing(OutcomeAt condition, IEnumerable<Place> places)
    {
        var found = places
            .Select(p => _byAspect[condition.Test].FirstOrDefault(f => f.At == p && Shows(f, condition)))
            .ToArray();
        return found.Length > 0 && found.All(f => f is not null) ? [.. found.OfType<Finding>()] : null;
    }

    private Finding[]? SomeShowing(OutcomeAt condition, Place at)
    {
        var found = PartsOf(condition, at).Select(p => _byAspect[condition.Test].FirstOrDefault(f => f.At == p && Shows(f, condition))).OfType<Finding>().ToArray();
        return found.DistinctBy(f => Witness(f.At)).Count() >= condition.AtLeast ? found : null;
    }

    // Two cylinders that share a coil are one witness: what fails at that coil shows at both.
    private int Witness(Place cylinder) => engine.Ignition == Ignition.WasteSpark && engine.Companion(cylinder.First) is { } companion ? Math.Min(cylinder.First, companion) : cylinder.First;

    // The places that must yet show what so many of them have to: where most was found wrong first. Null where too few are left; none is doubted, there are others.
    private Place[]? StillToShow(OutcomeAt condition, Place at)
    {
        var parts = PartsOf(condition, at).ToArray();
        var shown = parts.Where(p => _byAspect[condition.Test].Any(f => f.At == p && Shows(f, condition))).Select(Witness).ToHashSet();
        var left = parts.Where(p => !shown.Contains(Witness(p))).Where(p => _byAspect[condition.Test].Where(f => f.At == p).All(f => knowledge.MayBeTakenAgain(f) || condition.Outcomes.Contains(f.Outcome!)))
            .OrderByDescending(Wrong).DistinctBy(Witness).Take(Math.Max(0, condition.AtLeast - shown.Count)).ToArray();
        return shown.Count + left.Length >= condition.AtLeast ? left : null;

        int Wrong(Place place) => findings.Count(f => f.At == place && f.Outcome is { } o && !knowledge.Aspect(f.Aspect)!.Value.Aspect.Outcomes.First(a => a.Id == o).Good);
    }

    // Where the test may be read at the whole place (an intake leak at the engine), one reading there is asked for, not one a cylinder.
    private IEnumerable<Place> PlacesOf(OutcomeAt condition, Place at)
    {
        var (test, aspect) = knowledge.Aspect(condition.Test)!.Value;
        if (condition.Where != Relation.Here)
        {
            return BenchTest.PlacesOn(engine, aspect.Scope).Where(p => Relations.Of(engine, p, at) == condition.Where);
        }

        return test.AlsoScopes.Any(s => BenchTest.KindOf(s) == at.Kind) ? [at] : PartsOf(condition, at);
    }

    private IEnumerable<Place> PartsOf(OutcomeAt condition, Place at)
    {
        var scope = knowledge.Aspect(condition.Test)!.Value.Aspect.Scope;
        return scope switch
        {
            TestScope.Cylinder => at.Kind == PlaceKind.Engine
                ? engine.Cylinders.Select(Place.Cylinder)
                : engine.CylindersAt(at).Select(Place.Cylinder),
            TestScope.Bank => engine.CylindersAt(at).Select(engine.BankOf).Distinct().Select(Place.Bank),
            TestScope.Engine => [Place.Engine],
            _ => throw new InvalidOperationException($"Unknown scope {scope}."),
        };
    }
}

/// <summary>A proof with the findings that make it.</summary>
internal sealed record CompleteProof(ProofRule Rule, ImmutableArray<Finding> Findings, bool IsComplete);
