using ShopDiag.Diagnosis;
using ShopDiag.Diagnosis.BenchTests;
using ShopDiag.Diagnosis.Causes;
using ShopDiag.Diagnosis.Workups;

namespace ShopDiag.VirtualCars.SmallWorlds;

/// <summary>
/// A small world counted out from the published meaning of its entries (Bayes' rule over single faults, slips mixed in, minutes with what is off
/// counted once), without any of the reasoning code that is measured on it.
/// </summary>
internal sealed class WorldModel
{
    /// <summary>A proof counts only while its cause is at least this likely, as in the program.</summary>
    private const double LeastProbability = 0.6;

    /// <summary>Nobody goes on to prove a cause that is less likely than this. Made up.</summary>
    private const double LeastHope = 0.05;

    private readonly SmallWorld _world;
    private readonly BenchTest[] _tests;
    private readonly (Cause Cause, Place At)[] _faults;
    private readonly double[][][] _shows;
    private readonly ProofCondition[][][] _proofs;

    public WorldModel(SmallWorld world)
    {
        _world = world;
        _tests = [.. world.Steps.Select(s => world.Knowledge.Test(s.Test)!)];
        _faults = [.. world.Knowledge.Causes.SelectMany(c => c.PlacesOn(world.Engine).Select(at => (c, at)))];
        _shows = [.. world.Steps.Select(s => _faults.Select(f => Distribution(f.Cause, f.At, world.Knowledge.Test(s.Test)!, s.At)).ToArray())];
        _proofs = [.. _faults.Select(f => ProofsOf(f.Cause, f.At))];
        Start = WorldState.Open(_tests.Select(t => t.Aspects[0].Outcomes.Length), [.. _faults.Select(f => WeightOf(f.Cause, f.At))]);
    }

    /// <summary>Nothing read beyond what is given.</summary>
    public WorldState Start { get; }

    /// <summary>How many steps there are.</summary>
    public int Steps => _tests.Length;

    /// <summary>The steps that can be taken now.</summary>
    public IEnumerable<int> Available(WorldState state) => Enumerable.Range(0, Steps).Where(s => !state.IsRead(s) && _tests[s].Needs.All(n => IsMet(n, state)));

    /// <summary>The states a step can lead to, with their probabilities.</summary>
    public IEnumerable<(double Probability, WorldState State)> After(WorldState state, int step)
    {
        for (var o = 0; o < _tests[step].Aspects[0].Outcomes.Length; o++)
        {
            var weights = state.Weights.Select((w, f) => w * _shows[step][f][o]).ToArray();
            yield return (weights.Sum() / state.Total, state.With(step, o, weights));
        }
    }

    /// <summary>The probability of what is proven in a state, or null where nothing is.</summary>
    public double? Proven(WorldState state)
    {
        double? best = null;
        for (var f = 0; f < _faults.Length; f++)
        {
            var probability = state.Weights[f] / state.Total;
            if (probability >= LeastProbability && _proofs[f].Any(way => way.All(c => state.IsRead(c.Step) && c.Outcomes.Contains(state[c.Step]))))
            {
                best = probability;
            }
        }

        return best;
    }

    /// <summary>True when nothing can be proven any more that is worth going on for, or everything has been read.</summary>
    public bool IsHopeless(WorldState state) =>
        !Available(state).Any() || !Enumerable.Range(0, _faults.Length).Any(f => state.Weights[f] / state.Total >= LeastHope && _proofs[f].Any(way => IsOpen(way, state)));

    /// <summary>Minutes of a step from where the state stands.</summary>
    public double Minutes(WorldState state, int step)
    {
        var access = _tests[step].Access;
        if (access == Access.None)
        {
            return _tests[step].FirstMinutes;
        }

        var off = Enumerable.Range(0, Steps).Where(state.IsRead).Select(s => _tests[s].Access).ToHashSet();
        var bank = off.Any(a => a != Access.None) ? 0 : _world.Engine.AccessMinutes(1);
        var own = off.Contains(access) ? 0 : access switch
        {
            Access.PlugsOut => _world.Knowledge.Limits["plug-out-min"].Default,
            Access.ValveCover => _world.Knowledge.Limits["valve-cover-min"].Default,
            Access.Coils => 0,
            _ => throw new InvalidOperationException($"A small world has no access {access}."),
        };
        return _tests[step].FirstMinutes + bank + own;
    }

    /// <summary>What has been read in a state, as a workup.</summary>
    public Workup WorkupAt(WorldState state) => new()
    {
        Id = _world.Name,
        Engine = _world.Engine,
        Readings = [.. _world.Given, .. Enumerable.Range(0, Steps).Where(state.IsRead).Select(s => WorldBuilder.Seen(_tests[s].Id, _world.Steps[s].At, Outcome(state, s)))],
    };

    /// <summary>The probability of each cause at each place.</summary>
    public IEnumerable<(string Cause, Place At, double Probability)> Posterior(WorldState state) =>
        _faults.Select((f, i) => (f.Cause.Id, f.At, state.Weights[i] / state.Total));

    /// <summary>What has been read in a state, in words.</summary>
    public string Words(WorldState state) => string.Join(", ", Enumerable.Range(0, Steps).Where(state.IsRead).Select(s => $"{_tests[s].Id} {Outcome(state, s)}")) is { Length: > 0 } read
        ? read
        : "nothing read";

    private string Outcome(WorldState state, int step) => _tests[step].Aspects[0].Outcomes[state[step]].Id;

    private bool IsMet(OutcomeAt need, WorldState state) => StepOf(need.Test) is var step && state.IsRead(step) && need.Outcomes.Contains(Outcome(state, step));

    private bool IsOpen(ProofCondition[] way, WorldState state) => way.All(c => state.IsRead(c.Step) ? c.Outcomes.Contains(state[c.Step]) : CanStillBeRead(c.Step, state));

    private bool CanStillBeRead(int step, WorldState state) =>
        _tests[step].Needs.All(n => IsMet(n, state) || (!state.IsRead(StepOf(n.Test)) && CanStillBeRead(StepOf(n.Test), state)));

    private int StepOf(string test) => Array.FindIndex(_tests, t => t.Id == test);

    private double WeightOf(Cause cause, Place at)
    {
        var weight = cause.Weight / cause.PlacesOn(_world.Engine).Count();
        foreach (var reading in _world.Given)
        {
            var test = _world.Knowledge.Test(reading.Test)!;
            weight *= Distribution(cause, at, test, reading.At)[IndexOf(test, reading.Value.Text("seen")!)];
        }

        return weight;
    }

    private static double[] Distribution(Cause cause, Place fault, BenchTest test, Place at)
    {
        var relation = at.Kind == PlaceKind.Engine ? Relation.Engine : at == fault ? Relation.Here : Relation.Elsewhere;
        var rule = cause.Shows.FirstOrDefault(r => r.Aspect == test.Id && r.Where == relation);
        var outcomes = test.Aspects[0].Outcomes;
        return [.. outcomes.Select(o => ((1 - test.Slip) * (rule?.Shows[o.Id] ?? o.Healthy)) + (test.Slip / outcomes.Length))];
    }

    // A proof of a fault at a place that no step reads can never be complete.
    private ProofCondition[][] ProofsOf(Cause cause, Place at) =>
    [
        .. cause.Proof
            .Where(rule => rule.All.All(c => _world.Steps[StepOf(c.Test)].At == at))
            .Select(rule => rule.All.Select(c => new ProofCondition(StepOf(c.Test), [.. c.Outcomes.Select(o => IndexOf(_tests[StepOf(c.Test)], o))])).ToArray()),
    ];

    private static int IndexOf(BenchTest test, string outcome) => test.Aspects[0].Outcomes.Select(o => o.Id).ToList().IndexOf(outcome);

    private sealed record ProofCondition(int Step, int[] Outcomes);
}
