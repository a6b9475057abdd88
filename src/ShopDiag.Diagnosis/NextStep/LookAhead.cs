using System.Collections.Immutable;
using ShopDiag.Diagnosis.BenchTests;
using ShopDiag.Diagnosis.Evidence;
using ShopDiag.Diagnosis.Workups;

namespace ShopDiag.Diagnosis.NextStep;

/// <summary>A candidate with what is expected of it.</summary>
/// <param name="Candidate">The test and where.</param>
/// <param name="Minutes">Its own bench minutes.</param>
/// <param name="ToProof">Expected minutes to a proven cause when it is taken first, its own and its risk included.</param>
/// <param name="Use">Minutes that it is expected to save of what is to do without it, before its own are counted.</param>
/// <param name="Bits">How much it is expected to tell of which faults are present.</param>
internal sealed record Rated(Candidate Candidate, double Minutes, double ToProof, double Use, double Bits);

/// <summary>
/// Rates what could be taken next by playing it through: how it may come out, what would then be believed, and how many minutes would be left; for the best of them two
/// readings deep, so that a test that only opens the way to another is seen.
/// </summary>
internal sealed class LookAhead
{
    private const int MostSets = 160;
    private const int Deep = 7;
    private const int Second = 9;
    private readonly Workup _workup;
    private readonly Knowledge _knowledge;
    private readonly Belief _belief;
    private readonly BenchTime _time;
    private readonly ImmutableArray<Finding> _findings;
    private readonly FaultSet[] _sets;
    private readonly CostToGo _cost;
    private readonly Dictionary<(string Aspect, Place At), Channel> _channels = [];

    public LookAhead(Workup workup, Knowledge knowledge, Belief belief, BenchTime time, ProofPlans plans, ImmutableArray<Finding> findings)
    {
        (_workup, _knowledge, _belief, _time, _findings) = (workup, knowledge, belief, time, findings);
        _sets = [.. belief.Sets.Take(MostSets)];
        var likely = _sets.SelectMany(s => s.Other is { } other ? [s.One, other] : new[] { s.One }).Distinct()
            .Where(h => !belief.Hypotheses[h].Cause.Unlisted && belief.Probability(h) >= 0.002)
            .OrderByDescending(belief.Probability).ThenBy(h => h).Take(60);
        _cost = new CostToGo(time, [.. likely.Select(plans.Of)], _sets);
    }

    /// <summary>Every candidate that tells something, best first.</summary>
    public IReadOnlyList<Rated> Rate(Opened opened)
    {
        var total = _sets.Sum(s => s.Weight);
        var now = new Prospect([.. _sets.Select(s => s.Weight / total)], [], opened);
        var without = _cost.Of(now);
        var played = Candidates.Of(_workup, _knowledge, _findings)
            .Select((c, order) => Play(c, order, now))
            .Where(p => p.Channels.Length > 0)
            .OrderBy(p => p.ToProof).ThenBy(p => p.Order)
            .ToArray();
        var seconds = played.Take(Second).ToArray();
        return [.. played
            .Select((p, rank) => (Play: p, ToProof: rank < Deep ? TwoDeep(p, seconds) : p.ToProof))
            .OrderBy(p => p.ToProof).ThenBy(p => p.Play.Order)
            .Select(p => new Rated(p.Play.Candidate, p.Play.Minutes, p.ToProof, without + p.Play.Outlay - p.ToProof, Bits(p.Play, now)))];
    }

    private Played Play(Candidate candidate, int order, Prospect now)
    {
        var channels = ChannelsOf(candidate, now);
        if (channels.Length == 0)
        {
            return new Played(candidate, order, channels, [], 0, 0, 0);
        }

        var minutes = _time.Minutes(now.Opened, candidate.Test, candidate.Places);
        var outlay = minutes + candidate.Test.RiskMinutes;
        var branches = Branches.Of(now, channels, _time.After(now.Opened, candidate.Test, candidate.Places));
        return new Played(candidate, order, channels, branches, minutes, outlay, outlay + branches.Sum(b => b.Probability * _cost.Of(b.Then)));
    }

    // After each way the first test may come out, the best of some second tests is taken where that beats the plain plan.
    private double TwoDeep(Played first, IReadOnlyList<Played> seconds) => first.Outlay + first.Branches.Sum(branch =>
    {
        var best = _cost.Of(branch.Then);
        if (best <= 0 || branch.Probability < 0.01)
        {
            return branch.Probability * best;
        }

        foreach (var candidate in seconds.Where(s => s != first).Select(s => s.Candidate).Concat(OpenedBy(first.Candidate, branch)))
        {
            var second = Play(candidate, 0, branch.Then);
            best = second.Channels.Length > 0 ? Math.Min(best, second.ToProof) : best;
        }

        return branch.Probability * best;
    });

    // Tests that mean something only after this outcome (a wet compression after a low dry one).
    private IEnumerable<Candidate> OpenedBy(Candidate first, Branch branch) =>
        from test in _knowledge.Tests
        where !test.Needs.IsEmpty && test.Fits(_workup.Engine) && test.Tools.All(_workup.Shop.Owns)
        from place in first.Places.Take(16)
        where test.Needs.All(n => branch.Then.OutcomeOf(n.Test, place) is { } o && n.Outcomes.Contains(_knowledge.Aspect(n.Test)!.Value.Aspect.Outcomes[o].Id))
        select new Candidate(test, place, [place]);

    private ImmutableArray<Channel> ChannelsOf(Candidate candidate, Prospect now)
    {
        var channels = ImmutableArray.CreateBuilder<Channel>();
        foreach (var aspect in candidate.Test.Aspects)
        {
            // A test read at the engine may speak of cylinders or banks (trouble codes): then of all of them.
            foreach (var place in aspect.Scope == candidate.Test.Scope ? candidate.Places : BenchTest.PlacesOn(_workup.Engine, aspect.Scope))
            {
                if (ChannelOf(aspect.Id, place, now) is { Tells: true } channel)
                {
                    channels.Add(channel);
                }
            }
        }

        return channels.ToImmutable();
    }

    private Channel ChannelOf(string aspect, Place at, Prospect now)
    {
        if (now.Supposed.Any(s => s.At == at))
        {
            return Channel.Of(_belief, _sets, aspect, at, now.Supposed);
        }

        return _channels.TryGetValue((aspect, at), out var known) ? known : _channels[(aspect, at)] = Channel.Of(_belief, _sets, aspect, at, []);
    }

    // Mutual information between how the test comes out and which faults are present.
    private static double Bits(Played played, Prospect now) =>
        Math.Max(0, Entropy(now.Weights) - played.Branches.Sum(b => b.Probability * Entropy(b.Then.Weights)));

    private static double Entropy(double[] weights) => -weights.Where(w => w > 0).Sum(w => w * Math.Log2(w));

    private sealed record Played(
        Candidate Candidate, int Order, ImmutableArray<Channel> Channels, IReadOnlyList<Branch> Branches, double Minutes, double Outlay, double ToProof);
}
