using CsCheck;
using ShopDiag.Diagnosis.BenchTests;
using ShopDiag.Diagnosis.Workups;
using static ShopDiag.Diagnosis.Tests.Readings.Bench;

namespace ShopDiag.Diagnosis.Tests.Readings;

/// <summary>Manifold vacuum and exhaust back pressure.</summary>
public sealed class BreathingTests
{
    private static Reading Vacuum(double kPa, string needle) => At(Place.Engine, N("kPa", kPa), T("needle", needle));

    private static Finding Gauge(double kPa, string needle, double metres = 0) => Judge(I4, "manifold-vacuum", [Vacuum(kPa, needle)], metres).Single();

    private static Reading Exhaust(Place at, double idle, double speed) => At(at, N("kPaAtIdle", idle), N("kPaAt2500", speed));

    private static Finding Back(double idle, double speed) => JudgeOne(I4, "exhaust-backpressure", Exhaust(Place.Engine, idle, speed));

    /// <summary>Ford and Lincoln, general procedure: 51 to 74 kPa (15 to 22 inHg) steady is normal, and what the needle does names the rest.</summary>
    [Theory]
    [InlineData(64, "steady", "normal")]
    [InlineData(51, "steady", "normal")]
    [InlineData(50.9, "steady", "low-steady")]
    [InlineData(40, "steady", "low-steady")]
    [InlineData(40, "low-steady", "low-steady")]
    [InlineData(64, "drops-regularly", "drops-regularly")]
    [InlineData(60, "drops-at-times", "drops-at-times")]
    [InlineData(55, "drifts", "drifts")]
    [InlineData(55, "flutters", "flutters")]
    [InlineData(40, "drops-regularly", "drops-regularly")]
    public void The_needle_decides_and_where_it_stands_still_the_level(double kPa, string needle, string outcome)
    {
        Assert.Equal(outcome, Gauge(kPa, needle).Outcome);
        Assert.Equal(kPa, Gauge(kPa, needle).Measure);
    }

    /// <summary>
    /// D12: at 5000 ft (1524 m) the air has 24.896 inHg, 5.025 less than at sea level, so the least is 15.06 - 5.03 inHg; the rule of thumb, 1 inHg for each 1000 ft, says the same.
    /// </summary>
    [Theory]
    [InlineData(0, 51.0)]
    [InlineData(304.8, 47.4)]
    [InlineData(1524, 33.98)]
    [InlineData(3048, 19.36)]
    public void D12_the_least_vacuum_falls_with_height(double metres, double least)
    {
        Assert.Equal("normal", Gauge(least + 0.05, "steady", metres).Outcome);
        Assert.Equal("low-steady", Gauge(least - 0.05, "steady", metres).Outcome);
        Assert.InRange(51 - least, metres / 304.8 * 3.386 * 0.91, (metres / 304.8 * 3.386 * 1.07) + 0.001);
    }

    [Fact]
    public void A_needle_called_low_that_is_not_low_at_this_height_is_looked_at_again()
    {
        var finding = Gauge(40, "low-steady", 1524);
        Assert.Null(finding.Outcome);
        Assert.Contains("call the needle steady", finding.Because, StringComparison.Ordinal);
        Assert.Contains("at 1524 m by the standard atmosphere", finding.Because, StringComparison.Ordinal);
    }

    [Fact]
    public void The_engines_own_least_decides() =>
        Assert.True(JudgeOne(I4.With(("vacuum-min-kpa", 60)), "manifold-vacuum", Vacuum(58, "steady")) is { Outcome: "low-steady", ByDefaultLimit: false });

    [Fact]
    public void Needles_that_differ_and_levels_on_both_sides_are_taken_again()
    {
        Assert.True(JudgeOne(I4, "manifold-vacuum", Vacuum(60, "steady"), Vacuum(60, "drifts")) is { Outcome: null, TrialsDisagree: true });
        Assert.True(JudgeOne(I4, "manifold-vacuum", Vacuum(40, "steady"), Vacuum(62, "steady")) is { Outcome: null, TrialsDisagree: true });
        Assert.Equal("normal", JudgeOne(I4, "manifold-vacuum", Vacuum(50, "steady"), Vacuum(52, "steady")).Outcome);
    }

    private static readonly string[] Needles = ["steady", "low-steady", "drifts"];

    [Fact]
    public void Order_of_vacuum_trials_changes_nothing() => Gen.Select(Gen.Double[0, 100], Gen.Int[0, 2].Select(i => Needles[i])).Array[1, 4].Sample(trials =>
    {
        Reading[] readings = [.. trials.Select(t => Vacuum(t.Item1, t.Item2))];
        Assert.Equal(Judge(I4, "manifold-vacuum", readings), Judge(I4, "manifold-vacuum", readings.Reverse()));
    });

    /// <summary>Common practice: at most about 9 kPa (1.25 psi) at idle and 20 kPa (3 psi) at 2500 rpm.</summary>
    [Theory]
    [InlineData(4, 10, "good")]
    [InlineData(9, 20, "good")]
    [InlineData(9.1, 20, "restricted")]
    [InlineData(4, 20.1, "restricted")]
    [InlineData(0, 0, "good")]
    [InlineData(30, 90, "restricted")]
    [InlineData(15, 5, null)]
    public void An_exhaust_is_restricted_above_either_limit(double idle, double speed, string? outcome) => Assert.Equal(outcome, Back(idle, speed).Outcome);

    [Fact]
    public void A_pressure_that_falls_with_speed_is_no_exhausts() => Assert.Contains("rises with speed", Back(15, 5).Because, StringComparison.Ordinal);

    [Fact]
    public void Back_pressure_is_read_at_a_bank_or_at_the_engine()
    {
        var findings = Judge(V6, "exhaust-backpressure", Exhaust(Place.Bank(1), 4, 10), Exhaust(Place.Bank(2), 14, 40), Exhaust(Place.Engine, 5, 12));
        Assert.Equal([(Place.Engine, "good"), (Place.Bank(1), "good"), (Place.Bank(2), "restricted")], findings.Select(f => (f.At, f.Outcome!)));
        var test = Knowledge.Shipped.Test("exhaust-backpressure")!;
        Assert.All([Place.Engine, Place.Bank(2)], p => Assert.Null(ReadingCheck.Error(Exhaust(p, 4, 10) with { Test = test.Id }, test, V6)));
        Assert.NotNull(ReadingCheck.Error(Exhaust(Place.Cylinder(1), 4, 10) with { Test = test.Id }, test, V6));
    }

    [Fact]
    public void Trials_on_both_sides_of_a_limit_are_taken_again() =>
        Assert.True(JudgeOne(I4, "exhaust-backpressure", Exhaust(Place.Engine, 4, 10), Exhaust(Place.Engine, 5, 30)) is { Outcome: null, TrialsDisagree: true });

    [Fact]
    public void The_limit_that_decided_is_the_one_said_to_be_a_default()
    {
        var engine = I4.With(("backpressure-2500-kpa", 14));
        Assert.False(JudgeOne(engine, "exhaust-backpressure", Exhaust(Place.Engine, 4, 16)).ByDefaultLimit);
        Assert.True(JudgeOne(engine, "exhaust-backpressure", Exhaust(Place.Engine, 12, 13)).ByDefaultLimit);
        Assert.Equal(
            "4 kPa (0.58 psi) at idle, at most 9 kPa (1.31 psi) (the general limit); 16 kPa (2.32 psi) at 2500 rpm, at most 14 kPa (2.03 psi) (this engine's limit).",
            JudgeOne(engine, "exhaust-backpressure", Exhaust(Place.Engine, 4, 16)).Because);
    }

    [Fact]
    public void Order_of_back_pressure_trials_changes_nothing() => Gen.Select(Gen.Double[0, 60], Gen.Double[0, 120]).Array[1, 4].Sample(trials =>
    {
        Reading[] readings = [.. trials.Select(t => Exhaust(Place.Engine, t.Item1, t.Item2))];
        Assert.Equal(Judge(I4, "exhaust-backpressure", readings), Judge(I4, "exhaust-backpressure", readings.Reverse()));
    });
}
