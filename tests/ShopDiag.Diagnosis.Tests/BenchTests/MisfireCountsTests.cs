using CsCheck;
using ShopDiag.Diagnosis.BenchTests;
using ShopDiag.Diagnosis.BenchTests.MisfireCounts;
using static ShopDiag.Diagnosis.Tests.Readings.Bench;

namespace ShopDiag.Diagnosis.Tests.Readings;

public sealed class MisfireCountsTests
{
    private static Reading Count(int cylinder, double misfires, double revolutions = 1000) => At(cylinder, N("misfires", misfires), N("revolutions", revolutions));

    /// <summary>D11, all rows: percent of firing events by the definition of Directive 98/69/EC Annex XI 2.8 (also UN R83 Annex 11).</summary>
    [Theory]
    [InlineData(4, 1000, 20, 1.000)]
    [InlineData(4, 1000, 40, 2.000)]
    [InlineData(8, 1000, 80, 2.000)]
    [InlineData(4, 200, 40, 10.00)]
    [InlineData(6, 200, 60, 10.00)]
    [InlineData(3, 200, 6, 2.00)]
    public void D11_percent_misfire(int cylinders, double revolutions, double misfires, double percent) =>
        Assert.Equal(percent, MisfireRate.PercentOfAllFirings(misfires, revolutions, cylinders), 1e-9);

    [Theory]
    [InlineData(4, 25)]
    [InlineData(6, 16.667)]
    [InlineData(8, 12.5)]
    public void D11_one_dead_cylinder_is_its_share_of_the_engine(int cylinders, double percent)
    {
        Assert.Equal(percent, MisfireRate.PercentOfAllFirings(500, 1000, cylinders), 0.001);
        Assert.Equal(100, MisfireRate.PercentOfOwnFirings(500, 1000));
    }

    /// <summary>D11: a level holds only when it is exceeded (40 of 2000 firing events are 2.000 %, above an Audi-like 2 % only if greater).</summary>
    [Theory]
    [InlineData(10, "clean")]
    [InlineData(11, null)]
    public void D11_a_share_at_the_limit_is_not_above_it(double misfires, string? outcome) =>
        Assert.Equal(outcome, JudgeOne(I4, "misfire-counts", Count(1, misfires)).Outcome);

    /// <summary>D11 row 4/200/40: 10 % of all firings in 200 revolutions is in the catalyst's range (13 CCR 1968.2(e)(3), 5 % floor, from memory).</summary>
    [Theory]
    [InlineData(4, 40, true)]
    [InlineData(6, 60, true)]
    [InlineData(4, 20, false)]
    public void D11_the_catalyst_is_spoken_of_in_200_revolutions(int cylinders, double misfires, bool danger)
    {
        var engine = cylinders == 4 ? I4 : V6;
        var finding = JudgeOne(engine, "misfire-counts", Count(1, misfires, 200));
        Assert.Equal("misfiring", finding.Outcome);
        Assert.Equal(danger, finding.Because.Contains("above 5 % unburnt fuel can ruin the catalyst", StringComparison.Ordinal));
    }

    [Fact]
    public void Percent_over_no_revolutions_is_refused() => Assert.Throws<ArgumentOutOfRangeException>(() => MisfireRate.PercentOfOwnFirings(1, 0));

    [Theory]
    [InlineData(0, 1000, "clean")]
    [InlineData(3, 1000, "clean")]
    [InlineData(10, 1000, "clean")]
    [InlineData(12, 1000, null)]
    [InlineData(16, 1000, "misfiring")]
    [InlineData(480, 1000, "misfiring")]
    [InlineData(900, 1000, "misfiring")]
    [InlineData(0, 199, null)]
    [InlineData(0, 200, "clean")]
    [InlineData(1, 20, null)]
    [InlineData(9, 20, "misfiring")]
    [InlineData(0, 0, null)]
    [InlineData(7, 0, null)]
    public void A_count_is_believed_only_where_chance_would_not_give_it(double misfires, double revolutions, string? outcome) =>
        Assert.Equal(outcome, JudgeOne(I4, "misfire-counts", Count(3, misfires, revolutions)).Outcome);

    [Fact]
    public void The_measure_is_the_share_of_the_cylinders_own_firings_and_never_above_all()
    {
        Assert.Equal(4, JudgeOne(I4, "misfire-counts", Count(3, 20)).Measure!.Value, 1e-9);
        var impossible = JudgeOne(I4, "misfire-counts", Count(3, 900));
        Assert.Equal(100, impossible.Measure);
        Assert.Contains("longer than stated", impossible.Because, StringComparison.Ordinal);
    }

    [Fact]
    public void Trials_are_added_up()
    {
        Assert.Null(JudgeOne(I4, "misfire-counts", Count(1, 12)).Outcome);
        Assert.Equal("misfiring", JudgeOne(I4, "misfire-counts", Count(1, 12), Count(1, 14), Count(1, 15)).Outcome);
    }

    /// <summary>Misses of a cylinder that hardly fires are in part laid to others: a tenth of its count or less says nothing of them (common practice).</summary>
    [Theory]
    [InlineData(499, 19, null)]
    [InlineData(499, 49, null)]
    [InlineData(499, 50, "misfiring")]
    [InlineData(499, 9, "clean")]
    [InlineData(95, 20, "misfiring")]
    public void Few_misfires_beside_a_cylinder_that_hardly_fires_are_not_judged(double worst, double few, string? outcome)
    {
        var findings = Judge(I4, "misfire-counts", [Count(1, worst), Count(2, few), Count(3, 0), Count(4, 1)]).ToList();

        Assert.Equal(["misfiring", outcome, "clean", "clean"], findings.OrderBy(f => f.At.First).Select(f => f.Outcome));
        if (outcome is null)
        {
            Assert.Contains("cylinder 1", findings.Single(f => f.At.First == 2).Because, StringComparison.Ordinal);
        }
    }

    [Theory]
    [InlineData(40, true)]
    [InlineData(18, false)]
    public void The_catalyst_is_spoken_of_above_five_percent_of_all_firings(double each, bool danger)
    {
        var findings = Judge(I4, "misfire-counts", Enumerable.Range(1, 4).Select(c => Count(c, each)));
        Assert.All(findings, f => Assert.Equal(danger, f.Because.Contains("catalyst", StringComparison.Ordinal)));
    }

    [Fact]
    public void The_reason_gives_counts_firings_and_rule() => Assert.StartsWith(
        "20 misfires in 500 firings of this cylinder (1000 revolutions), 4 % (2.4 to 6.2 % with 95 % confidence): above 2 % (the general limit)",
        JudgeOne(I4, "misfire-counts", Count(2, 20)).Because, StringComparison.Ordinal);

    [Fact]
    public void Any_counts_are_answered_and_fewer_never_make_a_clean_cylinder_worse() =>
        Gen.Select(Gen.Int[0, 65535], Gen.Int[0, 1000000], Gen.Double[0, 1]).Sample((misfires, revolutions, share) =>
        {
            var more = JudgeOne(I4, "misfire-counts", Count(1, misfires, revolutions));
            var fewer = JudgeOne(I4, "misfire-counts", Count(1, Math.Floor(misfires * share), revolutions));
            Assert.True(more.Outcome != "clean" || fewer.Outcome == "clean");
        });
}
