using System.Collections.Immutable;
using System.Globalization;
using CsCheck;
using ShopDiag.Diagnosis.BenchTests;
using ShopDiag.Diagnosis.Engines;
using ShopDiag.Diagnosis.Workups;
using static ShopDiag.Diagnosis.Tests.Readings.Bench;

namespace ShopDiag.Diagnosis.Tests.Readings;

public sealed class RunningCompressionTests
{
    private static Reading Running(int cylinder, double idle, double? snap = null) => snap is { } s
        ? At(cylinder, N("idleKPa", idle), N("snapKPa", s))
        : At(cylinder, N("idleKPa", idle));

    private static Finding Second(double idle, double snap, Engine? engine = null) =>
        Judge(engine ?? I4, "compression-running", Running(1, 500, 900), Running(2, idle, snap), Running(3, 490, 910), Running(4, 505, 890)).On(2);

    private static Finding AfterDry(double idle, double snap, params double[] dry) => Judge(
        I4, "compression-running", [Running(2, idle, snap)],
        earlier: Judge(I4, "compression-dry", dry.Select((p, i) => At(i + 1, N("kPa", p))))).Single();

    [Theory]
    [InlineData("like the others", 480, 880, "good")]
    [InlineData("at the least share of the level", 350, 700, "good")]
    [InlineData("leaks or does not fill", 300, 600, "low-idle")]
    [InlineData("low at idle only", 300, 880, "low-idle")]
    [InlineData("cannot breathe: right at idle, low at a snap", 480, 500, "low-snap")]
    [InlineData("does not empty: a snap far above the others", 480, 1300, "high")]
    [InlineData("does not empty: far above the others at idle already", 700, 880, "high")]
    [InlineData("does not empty, and so cannot fill at a snap", 700, 500, "high")]
    [InlineData("a little above the others", 600, 1000, "good")]
    public void A_cylinder_is_set_beside_the_others(string _, double idle, double snap, string? outcome) => Assert.Equal(outcome, Second(idle, snap).Outcome);

    [Fact]
    public void A_cylinder_that_does_not_empty_points_to_the_exhaust() =>
        Assert.Contains("exhaust valve's lift", Second(480, 1300).Because, StringComparison.Ordinal);

    [Fact]
    public void The_reason_says_both_sides_and_the_rule() => Assert.Equal(
        "At idle 300 kPa (44 psi), below 70 % of the sound ones' 500 kPa (73 psi) (the general limit); at a snap 600 kPa (87 psi), below 70 % of the sound ones' 900 kPa (131 psi) (the general limit)."
        + " Low at both: it leaks or does not fill.",
        Second(300, 600).Because);

    /// <summary>Common practice: idle about half of the cranking value, a snap about 80 %; only a wide miss counts where nothing else is known.</summary>
    [Theory]
    [InlineData("as the rule of thumb says", 600, 960, "good")]
    [InlineData("a little less", 480, 900, "good")]
    [InlineData("low at idle", 300, 900, "low-idle")]
    [InlineData("low at a snap", 600, 500, "low-snap")]
    [InlineData("far too high at idle", 800, 960, "high")]
    public void Alone_it_is_held_against_dry_compression(string _, double idle, double snap, string outcome) =>
        Assert.Equal(outcome, AfterDry(idle, snap, 1200, 1210, 1190, 1200).Outcome);

    [Fact]
    public void Its_own_low_dry_compression_does_not_excuse_a_low_running_one() =>
        Assert.Equal("low-idle", AfterDry(200, 400, 1200, 400, 1190, 1200).Outcome);

    [Fact]
    public void Its_own_low_dry_compression_does_not_make_a_usual_running_one_too_high() =>
        Assert.Equal("good", Judge(I4, "compression-running", [Running(2, 430, 800)], earlier: Judge(I4, "compression-dry", At(2, N("kPa", 600)))).Single().Outcome);

    [Theory]
    [InlineData("one other, which is low", "480 150")]
    [InlineData("two others, one of them low", "480 480 200")]
    [InlineData("three others, two of them low", "480 480 200 200")]
    [InlineData("three others, all low", "480 150 150 150")]
    public void A_sound_cylinder_is_not_too_high_beside_low_ones(string _, string idle) =>
        Assert.Equal("good", Judge(I4, "compression-running", idle.Split(' ').Select((kPa, i) => Running(i + 1, double.Parse(kPa, CultureInfo.InvariantCulture), 900))).On(1).Outcome);

    [Fact]
    public void A_snap_far_above_few_others_is_left_open() => Assert.Null(Judge(I4, "compression-running", Running(1, 480, 900), Running(2, 480, 400)).On(1).Outcome);

    /// <summary>A bank whose exhaust is stopped up: four read far too high, and the other four are right.</summary>
    [Fact]
    public void A_bank_that_does_not_empty_leaves_the_other_right()
    {
        var v8 = Make("V8", [[1, 3, 5, 7], [2, 4, 6, 8]], [1, 8, 4, 3, 6, 5, 7, 2]);
        var findings = Judge(v8, "compression-running", Enumerable.Range(1, 8).Select(c => Running(c, c % 2 == 1 ? 770 : 430, 900)));
        Assert.All(findings, f => Assert.Equal(f.At.First % 2 == 1 ? "high" : "good", f.Outcome));
    }

    [Fact]
    public void All_too_high_alike_shows_against_sound_dry_compression()
    {
        var dry = Judge(I4, "compression-dry", Enumerable.Range(1, 4).Select(c => At(c, N("kPa", 1100))));
        Assert.Equal("high high high high", Judge(I4, "compression-running", Enumerable.Range(1, 4).Select(c => Running(c, 770, 900)), earlier: dry).Outcomes());
    }

    [Fact]
    public void Low_dry_compression_all_round_does_not_make_a_usual_running_one_too_high() => Assert.Equal("good", AfterDry(430, 800, 600, 600, 600, 600).Outcome);

    [Fact]
    public void Trials_on_both_sides_of_the_most_are_taken_again() => Assert.True(Judge(
        I4, "compression-running", Running(1, 500, 900), Running(2, 480, 880), Running(2, 1200, 880), Running(3, 490, 910), Running(4, 500, 900)).On(2) is { Outcome: null, TrialsDisagree: true });

    [Fact]
    public void A_sound_cylinder_is_not_low_beside_one_that_does_not_empty()
    {
        var findings = Judge(I4, "compression-running", Running(1, 440, 900), Running(2, 780, 900));
        Assert.Equal("good", findings.On(1).Outcome);
        Assert.Equal("high", findings.On(2).Outcome);
    }

    [Fact]
    public void All_low_alike_shows_against_dry_compression()
    {
        var dry = Judge(I4, "compression-dry", Enumerable.Range(1, 4).Select(c => At(c, N("kPa", 1200))));
        Reading[] choked = [.. Enumerable.Range(1, 4).Select(c => Running(c, 480, 450))];
        Assert.Equal("low-snap low-snap low-snap low-snap", Judge(I4, "compression-running", choked, earlier: dry).Outcomes());
        Assert.Equal("good good good good", Judge(I4, "compression-running", choked).Outcomes());
    }

    [Theory]
    [InlineData(300, 600, 0, "good")]
    [InlineData(250, 600, 0, "low-idle")]
    [InlineData(300, 500, 0, "low-snap")]
    [InlineData(250, 500, 2000, "good")]
    [InlineData(680, 800, 0, "good")]
    [InlineData(700, 800, 0, "high")]
    [InlineData(640, 800, 2000, "high")]
    public void With_nothing_to_compare_it_with_a_general_least_decides(double idle, double snap, double metres, string outcome)
    {
        var finding = Judge(I4, "compression-running", [Running(2, idle, snap)], metres).Single();
        Assert.True(finding.ByDefaultLimit);
        Assert.Equal(outcome, finding.Outcome);
        Assert.Contains("no dry compression", finding.Because, StringComparison.Ordinal);
    }

    [Fact]
    public void Without_a_snap_breathing_is_left_open()
    {
        Assert.Contains("shows only at a snap", JudgeOne(I4, "compression-running", Running(2, 480)).Because, StringComparison.Ordinal);
        Assert.Equal("low-idle", JudgeOne(I4, "compression-running", Running(2, 150)).Outcome);
    }

    [Fact]
    public void Trials_on_both_sides_are_taken_again() => Assert.True(Judge(
        I4, "compression-running", Running(1, 500, 900), Running(2, 300, 880), Running(2, 460, 880), Running(3, 490, 910)).On(2) is { Outcome: null, TrialsDisagree: true });

    [Fact]
    public void A_gap_no_larger_than_the_scatter_of_the_others_is_not_believed()
    {
        Reading[] wild = [Running(1, 640), Running(2, 480), Running(3, 600), Running(4, 420), Running(5, 330), Running(6, 520)];
        var engine = Make("I6", [[1, 2, 3, 4, 5, 6]], [1, 5, 3, 6, 2, 4]).With(("running-share-percent", 65));
        Assert.Null(Judge(engine, "compression-running", wild).On(5).Outcome);
    }

    [Fact]
    public void The_engines_own_limit_decides() =>
        Assert.True(Second(430, 880, I4.With(("running-share-percent", 90))) is { Outcome: "low-idle" });

    private static readonly Gen<(double Idle, double Snap)> Pairs = Gen.Select(Gen.Double[0, 900], Gen.Double[0, 1500]);

    [Fact]
    public void Order_of_readings_changes_nothing() => Pairs.Array[1, 4].Sample(trials =>
    {
        Reading[] readings = [.. trials.Select(t => Running(1, t.Idle, t.Snap)), Running(2, 480, 900), Running(3, 500, 910)];
        Assert.Equal(Judge(I4, "compression-running", readings), Judge(I4, "compression-running", readings.Reverse()));
    });

    [Fact]
    public void Numbering_the_cylinders_otherwise_numbers_the_findings_otherwise() => Gen.Select(Pairs.Array[4], Numberings).Sample((pairs, number) =>
    {
        ImmutableArray<Finding> Run(Func<int, int> numbered) => Judge(I4, "compression-running", pairs.Select((p, i) => Running(numbered(i), p.Idle, p.Snap)));
        Assert.Equal(Run(i => i + 1).Select(f => f with { At = Place.Cylinder(number[f.At.First - 1]) }).OrderBy(f => f.At), Run(i => number[i]));
    });

    [Fact]
    public void A_cylinder_like_the_others_is_good_whatever_the_engine_pumps() => Gen.Select(Gen.Double[100, 900], Gen.Double[200, 1400]).Sample((idle, snap) =>
        Assert.All(Judge(I4, "compression-running", Enumerable.Range(1, 4).Select(c => Running(c, idle, snap))), f => Assert.Equal("good", f.Outcome)));
}
