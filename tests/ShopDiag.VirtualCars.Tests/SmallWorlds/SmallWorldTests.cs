using ShopDiag.Diagnosis.Workups;
using ShopDiag.VirtualCars.SmallWorlds;

namespace ShopDiag.VirtualCars.Tests.SmallWorlds;

public sealed class SmallWorldTests
{
    private static readonly Lazy<Dictionary<string, WorldPlay>> Played = new(() => Worlds.All.ToDictionary(w => w.Name, w => new WorldPlay(w)));

    public static TheoryData<string> Names => [.. Worlds.All.Select(w => w.Name)];

    [Theory]
    [MemberData(nameof(Names))]
    public void The_program_needs_at_most_a_tenth_more_than_the_optimum(string world) => Assert.InRange(Played.Value[world].Figures.Ratio, 1 - 1e-9, 1.10);

    [Theory]
    [MemberData(nameof(Names))]
    public void No_policy_beats_the_optimum(string world)
    {
        var figures = Played.Value[world].Figures;

        Assert.True(figures.Checklist >= figures.Optimum - 1e-9);
        Assert.True(figures.Program >= figures.Optimum - 1e-9);
    }

    [Theory]
    [MemberData(nameof(Names))]
    public void The_programs_belief_minutes_and_conclusions_are_those_counted_out_here(string world)
    {
        var play = Played.Value[world];
        foreach (var visit in play.Visits)
        {
            var answer = play.Program.AssessmentAt(visit.State);
            Assert.Equal(Expected(play, visit.State), Found(answer), (a, b) => a.Key == b.Key && Math.Abs(a.Probability - b.Probability) < 1e-9);
            Assert.All(answer.Next.Where(n => n.Test is not null && play.StepOf(n.Test, n.At) >= 0), n => Assert.Equal(MinutesOf(play, visit.State, n), n.Minutes, 9));
            Assert.All(play.Model.After(visit.State, visit.Step), next => Assert.Equal(play.Model.Proven(next.State) is not null, play.Program.Concludes(next.State) is not null));
        }
    }

    [Theory]
    [MemberData(nameof(Names))]
    public void Every_suggestion_the_program_puts_first_is_a_step_of_the_world(string world) => Assert.Empty(Played.Value[world].Program.PassedOver);

    [Theory]
    [MemberData(nameof(Names))]
    public void What_single_choices_lose_adds_up_to_the_gap(string world)
    {
        var play = Played.Value[world];
        Assert.Equal(play.Figures.Program - play.Figures.Optimum, play.Losses.Sum(l => l.Minutes), 9);
    }

    [Fact]
    public void Where_a_strip_down_is_shared_the_optimum_uses_it_and_the_checklist_does_not()
    {
        var figures = Played.Value["one strip-down for several tests"].Figures;
        Assert.True(figures.Checklist > 1.2 * figures.Optimum);
    }

    [Fact]
    public void On_worlds_drawn_by_seed_the_program_stays_near_the_optimum()
    {
        var drawn = SmallWorldReport.DrawnFigures(80);

        Assert.True(drawn.Sum(f => f.Program) <= 1.05 * drawn.Sum(f => f.Optimum));
        Assert.True(drawn.Count(f => f.Ratio <= 1.10) >= 72);
        Assert.All(drawn, f => Assert.True(f.Ratio >= 1 - 1e-9));
    }

    [Fact]
    public void The_table_names_every_world() => Assert.All(Worlds.All, w => Assert.Contains($"| {w.Name} |", SmallWorldReport.Markdown(4), StringComparison.Ordinal));

    private static (string Key, double Probability)[] Expected(WorldPlay play, WorldState state) =>
        [.. play.Model.Posterior(state).Where(p => p.Cause != "unlisted").Select(p => ($"{p.Cause} {p.At}", p.Probability)).OrderBy(p => p.Item1, StringComparer.Ordinal)];

    private static (string Key, double Probability)[] Found(Assessment answer) =>
        [.. answer.Causes.Select(c => ($"{c.Cause} {c.At}", c.Probability)).OrderBy(p => p.Item1, StringComparer.Ordinal)];

    private static double MinutesOf(WorldPlay play, WorldState state, NextStepAdvice advice) => play.Model.Minutes(state, play.StepOf(advice.Test!, advice.At));
}
