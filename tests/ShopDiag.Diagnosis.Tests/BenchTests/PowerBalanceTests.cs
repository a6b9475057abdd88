using System.Collections.Immutable;
using CsCheck;
using ShopDiag.Diagnosis.BenchTests;
using ShopDiag.Diagnosis.BenchTests.PowerBalance;
using ShopDiag.Diagnosis.Engines;
using ShopDiag.Diagnosis.Workups;
using static ShopDiag.Diagnosis.Tests.BenchTests.Bench;

namespace ShopDiag.Diagnosis.Tests.BenchTests;

public sealed class PowerBalanceTests
{
    private static Reading Drop(int cylinder, double drop, double from = 700) => At(cylinder, N("baseRpm", from), N("cancelledRpm", from - drop));

    private static ImmutableArray<Finding> Drops(Engine engine, params double[] drops) =>
        Judge(engine, "power-balance", drops.Select((d, i) => Drop(i + 1, d)));

    /// <summary>D26: Lincoln 1991 Continental: 65 % and 43 % of 150 rpm, printed as 98 and 65 rpm.</summary>
    [Fact]
    public void D26_least_drops_round_half_up()
    {
        Assert.Equal(98, BalanceRules.LeastDrop(150, 65));
        Assert.Equal(65, BalanceRules.LeastDrop(150, 43));
    }

    [Theory]
    [InlineData(98, "contributing")]
    [InlineData(97, "weak")]
    [InlineData(65, "weak")]
    [InlineData(64, "dead")]
    [InlineData(0, "dead")]
    [InlineData(-8, "dead")]
    public void D26_a_drop_beside_healthy_ones_of_150_rpm(double drop, string outcome)
    {
        var finding = Drops(V6, 150, 150, drop, 150, 150, 150).On(3);
        Assert.Equal(outcome, finding.Outcome);
        Assert.Equal(drop, finding.Measure);
        Assert.True(finding.ByDefaultLimit);
    }

    [Theory]
    [InlineData("one dead of four", "contributing contributing dead contributing", 60.0, 64.0, 2.0, 58.0)]
    [InlineData("companions dead together", "contributing dead dead contributing", 60.0, 2.0, 4.0, 58.0)]
    [InlineData("half of a four is enough to see by", "dead contributing contributing dead", -3.0, 60.0, 58.0, 1.0)]
    [InlineData("one weak", "contributing contributing weak contributing", 60.0, 64.0, 33.0, 58.0)]
    [InlineData("one wild high reading condemns nobody", "contributing contributing contributing contributing", 60.0, 240.0, 57.0, 58.0)]
    [InlineData("a stall condemns nobody", "contributing contributing contributing contributing", 60.0, 700.0, 57.0, 58.0)]
    public void Cylinders_of_a_four_are_told_apart(string _, string outcomes, params double[] drops) => Assert.Equal(outcomes, Drops(I4, drops).Outcomes());

    [Fact]
    public void A_dead_bank_of_a_six_is_seen() => Assert.Equal("contributing dead contributing dead contributing dead", Drops(V6, 40, 1, 42, 0, 38, -2).Outcomes());

    [Fact]
    public void The_reason_gives_drop_share_rule_and_speeds()
    {
        var because = Drops(I4, 60, 60, 30, 60).On(3).Because;
        Assert.Equal("The speed fell by 30 rpm, from 700 to 670, 50 % of the other cylinders' healthy drop of 60 rpm: below 39 rpm (65 %, the general limit), but not below 26 rpm (43 %).", because);
    }

    [Fact]
    public void Trials_are_judged_by_their_middle()
    {
        Reading[] run = [At(1, N("baseRpm", 702, 699), N("cancelledRpm", 641, 637)), Drop(2, 60), Drop(3, 62), Drop(4, 58)];
        Assert.Equal(61.5, Judge(I4, "power-balance", run).On(1).Measure);
    }

    [Fact]
    public void Drops_hidden_by_the_idle_control_cannot_tell_and_say_what_to_do()
    {
        var findings = Drops(I4, 4, 6, 1, 5);
        Assert.Equal("- - - -", findings.Outcomes());
        Assert.All(findings, f => Assert.Contains("open loop", f.Because, StringComparison.Ordinal));
    }

    [Fact]
    public void Noise_as_large_as_the_drops_cannot_tell()
    {
        var run = Enumerable.Range(1, 4).Select(c => At(c, N("baseRpm", 700, 730, 680), N("cancelledRpm", 690, 670, 672)));
        Assert.Equal("- - - -", Judge(I4, "power-balance", run).Outcomes());
    }

    [Fact]
    public void One_cylinder_with_wild_trials_is_taken_again_while_the_others_stand()
    {
        Reading Steady(int cylinder) => At(cylinder, N("baseRpm", 700, 702), N("cancelledRpm", 640, 641));
        Reading[] run = [Steady(1), Steady(2), Steady(4), At(3, N("baseRpm", 700, 700), N("cancelledRpm", 630, 697))];
        var findings = Judge(I4, "power-balance", run);
        Assert.Equal("contributing contributing - contributing", findings.Outcomes());
        Assert.True(findings.On(3).TrialsDisagree);
    }

    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    public void Too_few_cylinders_cannot_be_compared(int measured)
    {
        var findings = Drops(I4, [.. Enumerable.Repeat(2.0, measured)]);
        Assert.All(findings, f => Assert.Null(f.Outcome));
        Assert.Contains("other cylinders too", findings[0].Because, StringComparison.Ordinal);
    }

    [Fact]
    public void A_twin_is_judged_by_its_two_and_a_single_never()
    {
        Assert.Equal("contributing dead", Drops(Make("I2", [[1, 2]], [1, 2]), 80, 5).Outcomes());
        Assert.Equal("-", Drops(Make("I1", [[1]], [1]), 80).Outcomes());
    }

    [Fact]
    public void A_cylinder_taken_at_another_speed_is_not_compared()
    {
        var findings = Judge(I4, "power-balance", Drop(1, 60), Drop(2, 62), Drop(3, 25, from: 1500), Drop(4, 58));
        Assert.Equal("contributing contributing - contributing", findings.Outcomes());
        Assert.Contains("same speed", findings.On(3).Because, StringComparison.Ordinal);
    }

    [Fact]
    public void The_engines_own_limit_decides_and_is_named()
    {
        var finding = Judge(I4.With(("power-balance-weak-percent", 90)), "power-balance", Drop(1, 60), Drop(2, 60), Drop(3, 50), Drop(4, 60)).On(3);
        Assert.Equal("weak", finding.Outcome);
        Assert.False(finding.ByDefaultLimit);
        Assert.Contains("this engine's limit", finding.Because, StringComparison.Ordinal);
    }

    private static readonly Gen<Reading[]> Runs = Gen.Select(
        Gen.Double[200, 6000], Gen.Double[0, 6000]).Array[1, 3].Array[1, 6].Select(cylinders => cylinders
        .Select((trials, i) => At(i + 1, N("baseRpm", [.. trials.Select(t => t.Item1)]), N("cancelledRpm", [.. trials.Select(t => t.Item2)])))
        .ToArray());

    private static readonly Gen<double[]> PlausibleDrops = Gen.Double[-10, 120].Array[6];

    [Fact]
    public void Any_speeds_within_the_range_are_answered_for_every_cylinder() =>
        Runs.Sample(run => Assert.Equal(run.Length, Judge(V6, "power-balance", run).Length));

    [Fact]
    public void Order_of_readings_and_trials_changes_nothing() => Gen.Select(Runs, Gen.Int[0, 999]).Sample((run, seed) =>
    {
        Reading[] single = [.. run.SelectMany(Split)];
        var shuffled = single.OrderBy(r => HashCode.Combine(r.Value.Number("baseRpm"), r.At, seed));
        Assert.Equal(Judge(V6, "power-balance", single), Judge(V6, "power-balance", shuffled));
    });

    [Fact]
    public void Numbering_the_cylinders_otherwise_numbers_the_findings_otherwise() => Gen.Select(Runs, Gen.Int[0, 999]).Sample((run, seed) =>
    {
        var number = Enumerable.Range(1, 6).OrderBy(c => HashCode.Combine(c, seed)).Prepend(0).ToArray();
        var findings = Judge(V6, "power-balance", run).Select(f => f with { At = Place.Cylinder(number[f.At.First]) }).OrderBy(f => f.At);
        Assert.Equal(findings, Judge(V6, "power-balance", run.Select(r => r with { At = Place.Cylinder(number[r.At.First]) })));
    });

    [Fact]
    public void A_greater_drop_never_makes_a_contributing_cylinder_worse() => Gen.Select(PlausibleDrops, Gen.Int[1, 6], Gen.Double[0, 60]).Sample((drops, cylinder, more) =>
    {
        if (Drops(V6, drops).On(cylinder).Outcome == "contributing")
        {
            drops[cylinder - 1] += more;
            Assert.Equal("contributing", Drops(V6, drops).On(cylinder).Outcome);
        }
    });

    private static IEnumerable<Reading> Split(Reading reading) => reading.Value.Numbers("baseRpm")
        .Zip(reading.Value.Numbers("cancelledRpm"), (b, c) => At(reading.At, N("baseRpm", b), N("cancelledRpm", c)));
}
