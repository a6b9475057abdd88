using System.Globalization;
using System.Text;
using ShopDiag.Diagnosis;
using ShopDiag.Diagnosis.Workups;

namespace ShopDiag.VirtualCars.SmallWorlds;

/// <summary>One world played through by the optimum, the program and the checklist.</summary>
internal sealed class WorldPlay
{
    private const int MostDifferences = 8;
    private readonly SmallWorld _world;
    private readonly Optimum _optimum;
    private readonly PolicyRun _run;

    public WorldPlay(SmallWorld world)
    {
        _world = world;
        Model = new WorldModel(world);
        _optimum = new Optimum(Model);
        Program = new ProgramPolicy(world, Model);
        var least = _optimum.From(Model.Start);
        var best = PolicyRun.Of(Model, new BestPolicy(Model, _optimum));
        _run = PolicyRun.Of(Model, Program);
        Figures = new WorldFigures(
            world.Name, _optimum.States, least, _run.Minutes, PolicyRun.Of(Model, new ChecklistPolicy(Model)).Minutes, best.Right, best.Wrong, _run.Right, _run.Wrong);
    }

    /// <summary>The world counted out.</summary>
    public WorldModel Model { get; }

    /// <summary>The program's policy.</summary>
    public ProgramPolicy Program { get; }

    /// <summary>What was reached.</summary>
    public WorldFigures Figures { get; }

    /// <summary>The states the program came to.</summary>
    public IReadOnlyList<Visit> Visits => _run.Visits;

    /// <summary>What each step of the program loses against the best one there, times the chance of coming there.</summary>
    public IEnumerable<(Visit Visit, double Minutes)> Losses => Visits.Select(v => (v, v.Reach * (_optimum.Taking(v.State, v.Step) - _optimum.From(v.State))));

    /// <summary>The number of a step.</summary>
    public int StepOf(string test, Place at) => _world.Steps.IndexOf(new WorldStep(test, at));

    /// <summary>Writes where the program chose otherwise; the losses add up to the gap between the two.</summary>
    public void Describe(StringBuilder text)
    {
        text.AppendLine(CultureInfo.InvariantCulture, $"## {_world.Name}").AppendLine();
        text.AppendLine(CultureInfo.InvariantCulture, $"{_world.Asks}. Optimum {Figures.Optimum:0.00} min, program {Figures.Program:0.00} min, ratio {Figures.Ratio:0.000}.").AppendLine();
        foreach (var (visit, loss) in Losses.Where(l => l.Minutes > 1e-6).OrderByDescending(l => l.Minutes).Take(MostDifferences))
        {
            text.AppendLine(CultureInfo.InvariantCulture, $"- loses {loss:0.00} min (comes there in {visit.Reach:0.0%}): **{Model.Words(visit.State)}**");
            text.AppendLine(CultureInfo.InvariantCulture, $"  - belief: {Belief(visit.State)}");
            var best = _optimum.Best(visit.State);
            text.AppendLine(CultureInfo.InvariantCulture, $"  - program{(visit.Silent ? " (silent, so the checklist)" : "")}: {Step(visit.State, visit.Step)}; best: {Step(visit.State, best)}");
            text.AppendLine(CultureInfo.InvariantCulture, $"  - all: {string.Join("; ", Model.Available(visit.State).OrderBy(s => _optimum.Taking(visit.State, s)).Select(s => Step(visit.State, s)))}");
            text.AppendLine(CultureInfo.InvariantCulture, $"  - the program's list: {string.Join("; ", Program.AssessmentAt(visit.State).Next.Select(Advice))}");
        }

        foreach (var (state, advice) in Program.PassedOver)
        {
            text.AppendLine(CultureInfo.InvariantCulture, $"- passed over a suggestion that is no step of this world: {advice} (at: {state})");
        }

        text.AppendLine();
    }

    private string Step(WorldState state, int step) => string.Create(
        CultureInfo.InvariantCulture, $"{_world.Steps[step].Test} (takes {Model.Minutes(state, step):0.#}, in all {_optimum.Taking(state, step):0.00})");

    private static string Advice(NextStepAdvice advice) =>
        string.Create(CultureInfo.InvariantCulture, $"{advice.Test ?? "repair"} {advice.Minutes:0.#} min, to proof {advice.ToProof:0.0}, {advice.Gain:0.00} bit");

    private string Belief(WorldState state) => string.Join(", ", Model.Posterior(state)
        .Where(p => p.Probability >= 0.005).OrderByDescending(p => p.Probability)
        .Select(p => string.Create(CultureInfo.InvariantCulture, $"{p.Cause} {p.Probability:0.00}")));

    private sealed class BestPolicy(WorldModel model, Optimum optimum) : IWorldPolicy
    {
        public double? Concludes(WorldState state) => model.Proven(state);

        public int? Choose(WorldState state) => optimum.Best(state);
    }
}
