using System.Collections.Immutable;
using ShopDiag.Diagnosis.BenchTests;
using ShopDiag.Diagnosis.Evidence;
using ShopDiag.Diagnosis.Workups;

namespace ShopDiag.Diagnosis.NextStep;

/// <summary>A candidate with what is expected of it.</summary>
/// <param name="Candidate">The test and where.</param>
/// <param name="Minutes">Its own bench minutes.</param>
/// <param name="ToProof">Expected minutes to a proven cause when it is taken first, its own and its risk included.</param>
/// <param name="Worth">Minutes that it is expected to save for each minute spent on it, alone or with the reading it opens the way to.</param>
/// <param name="Bits">How much it is expected to tell of which faults are present.</param>
internal sealed record Rated(Candidate Candidate, double Minutes, double ToProof, double Worth, double Bits);

/// <summary>
/// Rates what could be taken next by playing it through: how it may come out, what would then be believed, and how many minutes would be left; for the best of them two
/// readings deep, so that a test that only opens the way to another is seen.
/// </summary>
internal sealed class LookAhead
{
    /// <summary>A test that is expected to tell less than this, in bits, brings no proof nearer and opens the way to no other is passed over.</summary>
    private const double LeastBits = 0.003;

    /// <summary>A test that is expected to save this many minutes brings a proof nearer, even where nothing is left to tell.</summary>
    private const double LeastSaved = 0.2;

    /// <summary>From this probability on what the proof of a cause still lacks is read even where it tells nothing else: all that could speak otherwise is ruled out already.</summary>
    private const double LeastWanted = 0.1;

    private const int MostSets = 160;
    private const int Deep = 8;
    private const int Second = 5;
    private readonly Workup _workup;
    private readonly Knowledge _knowledge;
    private readonly Belief _belief;
    private readonly BenchTime _time;
    private readonly Companions _companions;
    private readonly ImmutableArray<Finding> _findings;
    private readonly FaultSet[] _sets;
    private readonly CostToGo _cost;
    private readonly Spots _spots;
    private readonly HashSet<(string Test, Place At)> _again;
    private readonly HashSet<(string Test, Place At)> _read;
    private readonly HashSet<Spot> _wanted;
    private readonly Dictionary<Spot, Channel> _channels = [];

    public LookAhead(Workup workup, Knowledge knowledge, Belief belief, BenchTime time, ProofPlans plans, Companions companions, Spots spots, ImmutableArray<Finding> findings)
    {
        (_workup, _knowledge, _belief, _time, _companions, _spots, _findings) = (workup, knowledge, belief, time, companions, spots, findings);
        _sets = [.. belief.Sets.Take(MostSets)];
        _read = [.. findings.Where(f => f.Outcome is not null && !f.Said).Select(f => (f.Test, f.At))];
        var likely = _sets.SelectMany(s => s.Other is { } other ? [s.One, other] : new[] { s.One }).Distinct()
            .Where(h => !belief.Hypotheses[h].Cause.Unlisted && belief.Probability(h) >= 0.002)
            .OrderByDescending(belief.Probability).ThenBy(h => h).Take(60);
        ProofPlan[] open = [.. likely.Select(plans.Of)];
        _cost = new CostToGo(time, open, _sets);
        _wanted = [.. open.Where(p => belief.Probability(p.Hypothesis) >= LeastWanted).SelectMany(p => p.Ways).SelectMany(way => way).Select(w => w.Spot)];
        _again = [.. open.SelectMany(p => p.Ways).SelectMany(way => way).Where(w => w.Again).Select(w => (w.Test.Id, w.Spot.At))];
    }

    /// <summary>Every candidate that tells something, best first.</summary>
    public IReadOnlyList<Rated> Rate(Opened opened)
    {
        var total = _sets.Sum(s => s.Weight);
        var now = new Prospect([.. _sets.Select(s => s.Weight / total)], [], opened);
        var left = _cost.Of(now);
        var played = Candidates.Of(_workup, _knowledge, _findings, _again, _companions)
            .Concat(SecondReadings.Of(_workup, _knowledge, _belief, _findings))
            .DistinctBy(c => (c.Test.Id, c.At, c.Tells[0]))
            .Select((c, order) => Play(c, order, now, left))
            .Where(p => p.Channels.Length > 0 && (p.Bits >= LeastBits || p.Saves >= LeastSaved || OpensAnother(p.Candidate.Test)))
            .OrderByDescending(p => p.Worth).ThenBy(p => p.Order)
            .ToArray();
        var seconds = played.Where(p => p.Channels.Length == 1).Take(Second).ToArray();
        return [.. played
            .Select((p, rank) => (Play: p, Worth: rank < Deep || OpensAnother(p.Candidate.Test) ? TwoDeep(p, seconds) : p.Worth))
            .OrderByDescending(p => p.Worth).ThenBy(p => p.Play.Order)
            .Select(p => new Rated(p.Play.Candidate, p.Play.Minutes, p.Play.Outlay + left - p.Play.Saves, p.Worth, p.Play.Bits))];
    }

    /// <summary>Minutes that the cheapest proof of a hypothesis is expected to take from here.</summary>
    public double MinutesToProve(int hypothesis, Opened opened) => _cost.ToProve(hypothesis, new Prospect([], [], opened));

    private Played Play(Candidate candidate, int order, Prospect now, double left)
    {
        var channels = ChannelsOf(candidate, now);
        if (channels.Length < 2 || candidate.Tells.Length > 1 || !_read.Contains((candidate.Test.Id, candidate.Tells[0])))
        {
            return Play(candidate, order, now, left, channels);
        }

        // What was read once most likely comes out the same: of a test with several sides no pattern would show that one of them may come out otherwise. Each side for
        // itself does, and all together tell at least as much.
        return channels.Select(c => Play(candidate, order, now, left, [c])).MaxBy(p => p.Saves)!;
    }

    private Played Play(Candidate candidate, int order, Prospect now, double left, ImmutableArray<Channel> channels)
    {
        if (channels.Length == 0)
        {
            return new Played(candidate, order, channels, [], 0, 0, 0, 0);
        }

        var minutes = _time.Minutes(now.Opened, candidate.Test, candidate.Places);
        var branches = Branches.Of(now, channels, _time.After(now.Opened, candidate.Test, candidate.Places));
        var saves = left - branches.Sum(b => b.Probability * _cost.Of(b.Then));
        return new Played(candidate, order, channels, branches, minutes, minutes + candidate.Test.RiskMinutes, saves, Bits(branches, now));
    }

    // Minutes saved for each minute spent. After each way the first test may come out, the best second test is counted in where that raises the ratio: then the
    // first is worth something for opening the way to the second.
    private double TwoDeep(Played first, IReadOnlyList<Played> seconds)
    {
        var then = first.Branches.Where(b => b.Probability >= 0.04)
            .Select(b => (b.Probability, Best: BestAfter(first, b, seconds)))
            .Where(b => b.Best is not null)
            .OrderByDescending(b => b.Best!.Worth);
        var (saves, spends) = (first.Saves, first.Outlay);
        foreach (var (probability, best) in then)
        {
            if (best!.Worth * spends <= saves)
            {
                break;
            }

            saves += probability * best.Saves;
            spends += probability * best.Outlay;
        }

        return saves / spends;
    }

    private Played? BestAfter(Played first, Branch branch, IReadOnlyList<Played> seconds)
    {
        var left = _cost.Of(branch.Then);
        return left <= 0 ? null : seconds.Where(s => s != first).Select(s => s.Candidate).Concat(OpenedBy(first.Candidate, branch))
            .Select(c => Play(c, 0, branch.Then, left))
            .Where(p => p.Channels.Length > 0)
            .MaxBy(p => p.Worth);
    }

    // Tests that mean something only after this outcome (a wet compression after a low dry one).
    private IEnumerable<Candidate> OpenedBy(Candidate first, Branch branch) =>
        from test in _knowledge.Tests
        where !test.Needs.IsEmpty && _workup.CanTake(test)
        from place in first.Places.Take(16)
        where _workup.CanTake(test, place) && test.Needs.All(n => branch.Then.OutcomeOf(_spots.Of(n.Test, place)) is { } o && n.Outcomes.Contains(_knowledge.Aspect(n.Test)!.Value.Aspect.Outcomes[o].Id))
        select new Candidate(test, place, [place]);

    private ImmutableArray<Channel> ChannelsOf(Candidate candidate, Prospect now)
    {
        var channels = ImmutableArray.CreateBuilder<Channel>();
        var opens = OpensAnother(candidate.Test);
        foreach (var aspect in candidate.Test.Aspects)
        {
            // A test read at the engine may speak of cylinders or banks (trouble codes): then of all of them.
            foreach (var place in aspect.Scope == candidate.Test.Scope ? candidate.Tells : BenchTest.PlacesOn(_workup.Engine, aspect.Scope))
            {
                var channel = ChannelOf(_spots.Of(aspect.Id, place), now);
                if (channel.Tells || opens || _wanted.Contains(channel.Spot))
                {
                    channels.Add(channel);
                }
            }
        }

        return channels.ToImmutable();
    }

    private Channel ChannelOf(Spot spot, Prospect now)
    {
        foreach (var supposed in now.Supposed)
        {
            if (supposed.Spot.Kin == spot.Kin)
            {
                return Channel.Of(_belief, _sets, spot, now.Supposed);
            }
        }

        return _channels.TryGetValue(spot, out var known) ? known : _channels[spot] = Channel.Of(_belief, _sets, spot, []);
    }

    // Mutual information between how the test comes out and which faults are present.
    private static double Bits(IReadOnlyList<Branch> branches, Prospect now) =>
        Math.Max(0, CostToGo.Entropy(now.Weights) - branches.Sum(b => b.Probability * CostToGo.Entropy(b.Then.Weights)));

    private bool OpensAnother(BenchTest test) => _knowledge.Tests.Any(t => t.Needs.Any(n => test.Aspects.Any(a => a.Id == n.Test)));

    private sealed record Played(
        Candidate Candidate, int Order, ImmutableArray<Channel> Channels, IReadOnlyList<Branch> Branches, double Minutes, double Outlay, double Saves, double Bits)
    {
        public double Worth => Outlay > 0 ? Saves / Outlay : 0;
    }
}
