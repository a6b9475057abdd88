using System.Collections.Immutable;
using ShopDiag.Diagnosis.BenchTests;
using ShopDiag.Diagnosis.Workups;

namespace ShopDiag.Diagnosis.NextStep;

/// <summary>A test that could be taken next.</summary>
/// <param name="Test">The test.</param>
/// <param name="At">Where to say it is taken; the engine for a full round of a cylinder or bank test.</param>
/// <param name="Places">The places that still lack a reading.</param>
internal sealed record Candidate(BenchTest Test, Place At, ImmutableArray<Place> Places)
{
    /// <summary>The places that the readings decide on: all, but for a suspected cylinder that is only compared with others.</summary>
    public ImmutableArray<Place> Tells { get; init; } = Places;
}

/// <summary>Lists what could be taken next: what fits the engine, what the shop owns the tools for, what nothing keeps from being taken, what is not settled yet.</summary>
internal static class Candidates
{
    /// <summary>Every candidate in a fixed order.</summary>
    /// <param name="workup">The workup.</param>
    /// <param name="knowledge">The knowledge.</param>
    /// <param name="findings">What the readings came to.</param>
    /// <param name="again">Readings that a proof wants a second time.</param>
    /// <param name="companions">What a suspected cylinder is compared with.</param>
    public static IEnumerable<Candidate> Of(
        Workup workup, Knowledge knowledge, ImmutableArray<Finding> findings, IReadOnlySet<(string Test, Place At)> again, Companions companions)
    {
        var settled = Settled(workup, knowledge, findings);
        settled.ExceptWith(again);
        foreach (var test in knowledge.Tests.Where(workup.CanTake))
        {
            var open = test.PlacesOn(workup.Engine).Where(IsOpen).ToImmutableArray();
            if (open.IsEmpty)
            {
                continue;
            }

            if (test.Compares && test.Scope == TestScope.Cylinder)
            {
                foreach (var suspect in companions.Suspects.Where(s => test.CompareWith > 0 && open.Contains(s)))
                {
                    if (companions.Missing(test, suspect) is { IsEmpty: false } missing && missing.Length < open.Length)
                    {
                        yield return new Candidate(test, missing[0], missing) { Tells = [suspect] };
                    }
                }

                yield return new Candidate(test, Place.Engine, open);
                continue;
            }

            // The whole engine may be taken in one go where the test allows it, unless its cylinders were taken one by one.
            foreach (var place in test.AlsoScopes.Contains(TestScope.Engine) && IsOpen(Place.Engine) ? open.Add(Place.Engine) : open)
            {
                yield return new Candidate(test, place, [place]);
            }

            bool IsOpen(Place place) => workup.CanTake(test, place) && !settled.Contains((test.Id, place)) && IsMeaningful(test, place, knowledge, findings);
        }
    }

    // A place is settled for a test once a reading there came to an outcome; a reading that cannot tell, or in which the trouble did not show, leaves it open,
    // but a round of a comparing test that was taken everywhere and cannot tell would only fail the same way again.
    private static HashSet<(string Test, Place At)> Settled(Workup workup, Knowledge knowledge, ImmutableArray<Finding> findings)
    {
        var settled = findings.Where(f => f.Outcome is not null && !knowledge.MayBeTakenAgain(f)).Select(f => (f.Test, f.At)).ToHashSet();
        foreach (var test in knowledge.Tests)
        {
            var taken = findings.Where(f => f.Test == test.Id).Select(f => f.At).ToHashSet();
            var read = workup.Readings.Where(r => r.Test == test.Id).Select(r => r.At).ToHashSet();
            if (test.Compares && test.PlacesOn(workup.Engine).All(taken.Contains))
            {
                settled.UnionWith(taken.Select(p => (test.Id, p)));
            }

            // What is read at one place and speaks of others (trouble codes) is settled where it is read.
            if (test.Aspects.Any(a => a.Scope != test.Scope) && (read.Count > 0 || taken.Count > 0))
            {
                settled.UnionWith(test.PlacesOn(workup.Engine).Select(p => (test.Id, p)));
            }
        }

        return settled;
    }

    /// <summary>True where a test can tell something at a place: what it needs has been found there, and nothing that makes it pointless.</summary>
    public static bool IsMeaningful(BenchTest test, Place at, Knowledge knowledge, ImmutableArray<Finding> findings) =>
        test.Needs.All(n => Holds(n, at, findings))
        && (test.PointlessAfter.IsEmpty || !test.PointlessAfter.All(n => Holds(n, at, findings)))
        && !(test.FollowsOneMisfire && IsSpread(knowledge, findings));

    private static bool Holds(OutcomeAt condition, Place at, ImmutableArray<Finding> findings) =>
        findings.Any(f => f.Aspect == condition.Test && f.At == at && f.Outcome is { } o && condition.Outcomes.Contains(o));

    // Three cylinders or more, and more than half of those that were looked at.
    private static bool IsSpread(Knowledge knowledge, ImmutableArray<Finding> findings)
    {
        var states = findings.Where(f => f.At.Kind == PlaceKind.Cylinder && f.Outcome is not null)
            .Select(f => (f.At, State: knowledge.Aspect(f.Aspect)!.Value.Aspect.Outcomes.First(o => o.Id == f.Outcome).State))
            .Where(s => s.State is not null).ToLookup(s => s.At, s => s.State!.Value);
        var bad = states.Count(c => c.Any(s => s != CylinderCondition.Contributing));
        return bad >= 3 && 2 * bad > states.Count;
    }
}
