using System.Collections.Immutable;
using CsCheck;
using ShopDiag.Diagnosis.BenchTests;
using ShopDiag.Diagnosis.Workups;
using static ShopDiag.Diagnosis.Tests.Readings.Bench;

namespace ShopDiag.Diagnosis.Tests.Readings;

public sealed class ValveTests
{
    private static Reading Valves(int cylinder, double intake, double exhaust) => At(cylinder, N("intakeMm", intake), N("exhaustMm", exhaust));

    private static ImmutableArray<Finding> Lifts(params (double Intake, double Exhaust)[] mm) =>
        Judge(I4, "valve-lift", mm.Select((m, i) => Valves(i + 1, m.Intake, m.Exhaust)));

    private static string Lift(double intake, double exhaust) => Lifts((9.2, 8.0), (intake, exhaust), (9.1, 8.1), (9.3, 7.9)).On(2).Outcome ?? "-";

    private static Finding Clearance(double intake, double exhaust) => JudgeOne(I4, "valve-clearance", Valves(2, intake, exhaust));

    [Theory]
    [InlineData("like the others", 9.2, 8.0, "good")]
    [InlineData("a worn intake lobe", 4.0, 8.0, "lost")]
    [InlineData("a collapsed exhaust lifter", 9.2, 3.0, "lost")]
    [InlineData("an exhaust valve that opens as far as exhaust valves do here", 9.2, 7.2, "good")]
    [InlineData("an intake valve that opens only as far", 6.8, 8.0, "lost")]
    [InlineData("not at all", 0, 0, "lost")]
    public void Intake_is_compared_with_intake_and_exhaust_with_exhaust(string _, double intake, double exhaust, string outcome) => Assert.Equal(outcome, Lift(intake, exhaust));

    [Theory]
    [InlineData("plainly too little", 3.0, 9.0, "lost")]
    [InlineData("as usual", 9.2, 9.0, "good")]
    [InlineData("little, but engines differ", 5.5, 9.0, "-")]
    public void One_cylinder_alone_is_judged_only_where_it_is_plain(string _, double intake, double exhaust, string outcome)
    {
        var finding = Lifts((intake, exhaust)).Single();
        Assert.Equal(outcome, finding.Outcome ?? "-");
        Assert.True(outcome != "-" || finding.Because.Contains("measure a cylinder that pulls", StringComparison.Ordinal));
    }

    /// <summary>Lobes also wear all alike; then only the maker's figure shows it.</summary>
    [Fact]
    public void The_makers_least_holds_whatever_the_others_show()
    {
        var engine = I4.With(("intake-lift-min-mm", 8.5));
        Reading[] worn = [.. Enumerable.Range(1, 4).Select(c => Valves(c, 7.5, 8.0))];
        Assert.All(Judge(engine, "valve-lift", worn), f => Assert.True(f is { Outcome: "lost", ByDefaultLimit: false }));
        Assert.All(Judge(I4, "valve-lift", worn), f => Assert.Equal("good", f.Outcome));
        Assert.Contains("below the least allowed 8.5 mm (0.335 in) (this engine's limit)", Judge(engine, "valve-lift", worn)[0].Because, StringComparison.Ordinal);
        Assert.Equal("good", JudgeOne(engine.With(("intake-lift-min-mm", 5), ("exhaust-lift-min-mm", 5)), "valve-lift", Valves(2, 5.5, 5.5)).Outcome);
    }

    [Fact]
    public void Trials_on_both_sides_are_measured_again() =>
        Assert.True(Judge(I4, "valve-lift", Valves(1, 9, 9), Valves(2, 5, 9), Valves(2, 9, 9), Valves(3, 9, 9)).On(2) is { Outcome: null, TrialsDisagree: true });

    [Fact]
    public void One_valve_that_does_not_open_is_enough_though_the_other_cannot_be_told() =>
        Assert.Equal("lost", Lifts((2, 5.5)).Single().Outcome);

    [Theory]
    [InlineData("as most engines", 0.20, 0.28, "within")]
    [InlineData("a held-open exhaust valve", 0.20, 0.02, "tight")]
    [InlineData("a held-open intake valve", 0.00, 0.28, "tight")]
    [InlineData("loose intake", 0.60, 0.28, "loose")]
    [InlineData("tight is named before loose", 0.60, 0.02, "tight")]
    [InlineData("at the general limits", 0.10, 0.45, "within")]
    public void Clearance_is_judged_by_both_valves(string _, double intake, double exhaust, string outcome) => Assert.Equal(outcome, Clearance(intake, exhaust).Outcome);

    [Fact]
    public void The_makers_figures_go_before_the_general_ones()
    {
        var engine = I4.With(("intake-clearance-min-mm", 0.40), ("intake-clearance-max-mm", 0.50), ("exhaust-clearance-min-mm", 0.50), ("exhaust-clearance-max-mm", 0.60));
        Assert.True(JudgeOne(engine, "valve-clearance", Valves(2, 0.45, 0.55)) is { Outcome: "within", ByDefaultLimit: false });
        Assert.Equal("tight", JudgeOne(engine, "valve-clearance", Valves(2, 0.20, 0.55)).Outcome);
        Assert.Equal(
            "Intake 0.2 mm (0.008 in), tight: 0.4 mm (0.016 in) to 0.5 mm (0.02 in) (this engine's limit). Exhaust 0.55 mm (0.022 in), within: 0.5 mm (0.02 in) to 0.6 mm (0.024 in) (this engine's limit).",
            JudgeOne(engine, "valve-clearance", Valves(2, 0.20, 0.55)).Because);
    }

    [Fact]
    public void All_outside_the_general_figures_alike_is_another_engine_not_a_fault()
    {
        Reading[] alike = [.. Enumerable.Range(1, 4).Select(c => Valves(c, 0.45, 0.30))];
        Assert.All(Judge(I4, "valve-clearance", alike), f => Assert.Null(f.Outcome));
        Assert.Contains("Enter the maker's figures", Judge(I4, "valve-clearance", alike)[0].Because, StringComparison.Ordinal);

        // One apart from the rest is a fault, and so is no clearance at all.
        Assert.Equal("loose", Judge(I4, "valve-clearance", [Valves(1, 0.9, 0.3), .. alike[1..]]).On(1).Outcome);
        Assert.All(Judge(I4, "valve-clearance", Enumerable.Range(1, 4).Select(c => Valves(c, 0.02, 0.3))), f => Assert.Equal("tight", f.Outcome));
    }

    [Fact]
    public void A_warm_engine_near_a_general_limit_is_measured_cold()
    {
        Reading Warm(double intake) => Valves(2, intake, 0.28) with { Warm = true };
        Assert.Null(JudgeOne(I4, "valve-clearance", Warm(0.08)).Outcome);
        Assert.Equal("tight", JudgeOne(I4, "valve-clearance", Valves(2, 0.08, 0.28)).Outcome);
        Assert.Equal("within", JudgeOne(I4, "valve-clearance", Warm(0.20)).Outcome);
        Assert.Equal("tight", JudgeOne(I4, "valve-clearance", Warm(0.0)).Outcome);
        Assert.Equal("tight", JudgeOne(I4.With(("intake-clearance-min-mm", 0.1), ("intake-clearance-max-mm", 0.35)), "valve-clearance", Warm(0.08)).Outcome);
    }

    [Fact]
    public void Clearances_of_one_valve_that_differ_are_measured_again() =>
        Assert.True(JudgeOne(I4, "valve-clearance", Valves(2, 0.02, 0.28), Valves(2, 0.25, 0.28)) is { Outcome: null, TrialsDisagree: true });

    private static readonly Gen<(double Intake, double Exhaust)> Lengths = Gen.Select(Gen.Double[0, 12], Gen.Double[0, 12]);

    [Theory]
    [InlineData("valve-lift", 1.0)]
    [InlineData("valve-clearance", 0.08)]
    public void Order_of_readings_changes_nothing(string test, double scale) => Lengths.Array[1, 4].Sample(trials =>
    {
        Reading[] readings = [.. trials.Select(t => Valves(1, t.Intake * scale, t.Exhaust * scale)), Valves(2, 9 * scale, 8 * scale), Valves(3, 9.1 * scale, 8 * scale)];
        Assert.Equal(Judge(I4, test, readings), Judge(I4, test, readings.Reverse()));
    });

    [Theory]
    [InlineData("valve-lift", 1.0)]
    [InlineData("valve-clearance", 0.08)]
    public void Numbering_the_cylinders_otherwise_numbers_the_findings_otherwise(string test, double scale) => Gen.Select(Lengths.Array[4], Numberings).Sample((lengths, number) =>
    {
        ImmutableArray<Finding> Run(Func<int, int> numbered) => Judge(I4, test, lengths.Select((l, i) => Valves(numbered(i), l.Intake * scale, l.Exhaust * scale)));
        Assert.Equal(Run(i => i + 1).Select(f => f with { At = Place.Cylinder(number[f.At.First - 1]) }).OrderBy(f => f.At), Run(i => number[i]));
    });

    [Fact]
    public void More_lift_never_makes_a_good_valve_worse() => Gen.Select(Lengths.Array[4], Gen.Double[0, 5]).Sample((lengths, more) =>
    {
        string? Run(double extra) => Lifts([(lengths[0].Intake + extra, lengths[0].Exhaust), .. lengths[1..]]).On(1).Outcome;
        Assert.True(Run(0) != "good" || Run(more) == "good");
    });
}
