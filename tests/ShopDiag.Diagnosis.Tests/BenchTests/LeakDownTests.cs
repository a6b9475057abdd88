using CsCheck;
using ShopDiag.Diagnosis.BenchTests;
using ShopDiag.Diagnosis.BenchTests.LeakDown;
using static ShopDiag.Diagnosis.Tests.Readings.Bench;

namespace ShopDiag.Diagnosis.Tests.Readings;

public sealed class LeakDownTests
{
    private const double AirPsi = 14.696;

    private static Reading Leak(double percent, string? hear = null) => hear is null ? At(2, N("percent", percent)) : At(2, N("percent", percent), T("hear", hear));

    private static Reading On(double percent, double restrictorMm, double? supplyKPa = null, string hear = "exhaust", int cylinder = 2) => supplyKPa is { } supply
        ? At(cylinder, N("percent", percent), T("hear", hear), N("restrictorMm", restrictorMm), N("supplyKPa", supply))
        : At(cylinder, N("percent", percent), T("hear", hear), N("restrictorMm", restrictorMm));

    /// <summary>D16: Chrysler 2002 Dakota: 552 kPa (80 psi) in, 414 kPa (60 psi) kept is 25 %.</summary>
    [Theory]
    [InlineData(80, 60, 25)]
    [InlineData(552, 414, 25)]
    [InlineData(80, 76, 5)]
    [InlineData(80, 72, 10)]
    [InlineData(80, 64, 20)]
    [InlineData(80, 80, 0)]
    public void D16_leakage_from_two_gauges(double supply, double cylinder, double percent) => Assert.Equal(percent, LeakRate.Percent(supply, cylinder), 1e-9);

    [Theory]
    [InlineData(0, 0)]
    [InlineData(80, 81)]
    [InlineData(80, -1)]
    public void Pressures_that_cannot_be_are_refused(double supply, double cylinder) => Assert.Throws<ArgumentOutOfRangeException>(() => LeakRate.Percent(supply, cylinder));

    [Theory]
    [InlineData(8, "none", "tight")]
    [InlineData(20, "crankcase", "tight")]
    [InlineData(12, null, "tight")]
    [InlineData(21, "crankcase", "leaks-crankcase")]
    [InlineData(45, "intake", "leaks-intake")]
    [InlineData(45, "exhaust", "leaks-exhaust")]
    [InlineData(45, "coolant", "leaks-coolant")]
    [InlineData(45, "neighbour", "leaks-neighbour")]
    [InlineData(12, "coolant", "leaks-coolant")]
    [InlineData(12, "neighbour", "leaks-neighbour")]
    [InlineData(45, "none", null)]
    [InlineData(45, null, null)]
    public void A_leak_is_named_by_where_the_air_comes_out(double percent, string? hear, string? outcome)
    {
        var finding = JudgeOne(I4, "leak-down", Leak(percent, hear));
        Assert.Equal(outcome, finding.Outcome);
        Assert.Equal(percent, finding.Measure);
    }

    [Fact]
    public void Makers_differ_and_the_engines_own_limit_decides() =>
        Assert.True(JudgeOne(I4.With(("leak-down-max-percent", 25)), "leak-down", Leak(24, "exhaust")) is { Outcome: "tight", ByDefaultLimit: false });

    [Fact]
    public void Trials_that_name_different_ways_out_are_listened_to_again()
    {
        Assert.True(JudgeOne(I4, "leak-down", Leak(45, "exhaust"), Leak(44, "intake")) is { Outcome: null, TrialsDisagree: true });
        Assert.Equal("leaks-exhaust", JudgeOne(I4, "leak-down", Leak(45, "exhaust"), Leak(44, "none")).Outcome);
        Assert.True(JudgeOne(I4, "leak-down", Leak(10, "exhaust"), Leak(44, "exhaust")) is { Outcome: null, TrialsDisagree: true });
    }

    /// <summary>
    /// D17: 80 psi supply, 0.040 in restrictor (FAA AC 43.13-1B, 8-14), air 14.696 psi; areas and diameters computed from the flow function of compressible
    /// flow. From 50 % on the restrictor, and in every row but the last two the leak, is choked or nearly so: the incompressible short cut gives 0.577 at 60 psi.
    /// </summary>
    [Theory]
    [InlineData(76, 0.4331, 0.0263, 0.669)]
    [InlineData(75, 0.4867, 0.0279, 0.709)]
    [InlineData(70, 0.7067, 0.0336, 0.854)]
    [InlineData(60, 1.0586, 0.0412, 1.045)]
    [InlineData(50, 1.3836, 0.0471, 1.195)]
    [InlineData(40, 1.7220, 0.0525, 1.333)]
    public void D17_the_hole_that_leaks_as_much(double cylinderPsi, double areas, double inches, double millimetres)
    {
        Assert.Equal(areas, LeakOrifice.AreaRatio(80, cylinderPsi, AirPsi), 0.00006);
        Assert.Equal(millimetres, LeakOrifice.DiameterMm(1.016, KPa(80), KPa(cylinderPsi)), 0.0006);
        Assert.Equal(inches, LeakOrifice.DiameterMm(0.040, 80, cylinderPsi, AirPsi), 0.00006);
    }

    /// <summary>Below a pressure ratio of 0.52828 the flow no longer depends on the pressure behind the hole (any text on compressible flow).</summary>
    [Fact]
    public void Choked_through_both_the_areas_stand_as_the_pressures()
    {
        // 700 kPa to 300 and on to 50: both choked, so A2/A1 = P1/P2.
        Assert.Equal(700.0 / 300, LeakOrifice.AreaRatio(650, 250, 50), 1e-12);
        // Not choked through the restrictor: less than that.
        Assert.True(LeakOrifice.AreaRatio(650, 450, 50) < 700.0 / 500);
    }

    [Theory]
    [InlineData(0, 50, 100)]
    [InlineData(100, 0, 100)]
    [InlineData(100, 100, 100)]
    [InlineData(100, 101, 100)]
    [InlineData(100, 50, 0)]
    [InlineData(-5, -6, 100)]
    public void Pressures_that_size_no_hole_are_refused(double supply, double cylinder, double air) =>
        Assert.Throws<ArgumentOutOfRangeException>(() => LeakOrifice.AreaRatio(supply, cylinder, air));

    [Fact]
    public void A_restrictor_of_no_size_is_refused()
    {
        Assert.Throws<ArgumentOutOfRangeException>(() => LeakOrifice.DiameterMm(0, 552, 400));
        Assert.Throws<ArgumentOutOfRangeException>(() => LeakOrifice.AsReference(20, 0, 552));
    }

    private static readonly Gen<double> Percents = Gen.Double[0, 100];
    private static readonly Gen<double> Restrictors = Gen.Double[0.2, 5];
    private static readonly Gen<double> Supplies = Gen.Double[50, 1400];

    [Fact]
    public void The_reference_tester_reads_itself() =>
        Percents.Sample(percent => Assert.Equal(percent, LeakOrifice.AsReference(percent, LeakOrifice.ReferenceMm, LeakOrifice.ReferenceKPa), 1e-6));

    [Fact]
    public void A_tester_with_a_wider_restrictor_shows_less_of_the_same_leak() => Gen.Select(Gen.Double[0.02, 99], Restrictors, Supplies).Sample((percent, restrictor, supply) =>
    {
        var as1 = LeakOrifice.AsReference(percent, restrictor, supply);
        Assert.InRange(as1, 0, 100);
        Assert.True(LeakOrifice.AsReference(percent, restrictor * 1.1, supply) > as1);
    });

    /// <summary>
    /// D17: 60 of 80 psi with a 0.040 in restrictor is a hole 1.0586 times as large. Beside a 0.060 in restrictor (FAA AC 43.13-1B, bores from 5 in) it is only 0.4705 times
    /// as large, which in the same table lies between the rows of 5.00 % (0.4331) and 6.25 % (0.4867).
    /// </summary>
    [Fact]
    public void One_leak_on_two_testers_is_judged_alike()
    {
        var small = LeakOrifice.AsReference(25, 1.016, KPa(80));
        var wide = ShownBy(1.524, 1.045);

        Assert.InRange(wide, 5.00, 6.25);
        Assert.Equal(small, LeakOrifice.AsReference(wide, 1.524, KPa(80)), 0.1);
        Assert.Equal("leaks-exhaust", JudgeOne(I4, "leak-down", On(wide, 1.524, KPa(80))).Outcome);
        Assert.Equal("tight", JudgeOne(I4, "leak-down", Leak(wide, "exhaust")).Outcome);
        Assert.Equal(25, JudgeOne(I4, "leak-down", On(wide, 1.524, KPa(80))).Measure!.Value, 0.11);
    }

    [Fact]
    public void The_reason_gives_the_hole_and_what_the_reference_tester_shows_for_it() => Assert.EndsWith(
        "The tester showed 25 % with a restrictor of 1.02 mm (0.04 in) at 552 kPa (80 psi): the leak is as large as a hole of 1.05 mm (0.041 in); "
        + "a restrictor of 1.02 mm (0.04 in) at 552 kPa (80 psi) shows 25 % for it, and that is judged.",
        JudgeOne(I4, "leak-down", On(25, 1.016, 552)).Because);

    [Fact]
    public void A_supply_that_was_not_said_is_taken_as_the_usual_one_and_said_so() =>
        Assert.Contains("at 552 kPa (80 psi), the usual supply: the leak", JudgeOne(I4, "leak-down", On(25, 1.016)).Because, StringComparison.Ordinal);

    [Theory]
    [InlineData(0, "tight")]
    [InlineData(1e-17, "tight")]
    [InlineData(100, "leaks-exhaust")]
    public void Nothing_lost_and_all_lost_size_no_hole(double percent, string outcome)
    {
        var finding = JudgeOne(I4, "leak-down", On(percent, 3, 300));
        Assert.Equal(outcome, finding.Outcome);
        Assert.DoesNotContain("hole of", finding.Because, StringComparison.Ordinal);
    }

    [Fact]
    public void Percentages_without_a_restrictor_are_not_compared_with_those_that_have_one()
    {
        Assert.All(Judge(I4, "leak-down", On(10, 1.5, cylinder: 1), Leak(10, "none")), f => Assert.Contains("cannot be compared", f.Because, StringComparison.Ordinal));
        Assert.All(Judge(I4, "leak-down", On(10, 1.5, cylinder: 1), On(10, 1.0)), f => Assert.DoesNotContain("cannot be compared", f.Because, StringComparison.Ordinal));
    }

    [Fact]
    public void Order_of_trials_changes_nothing() => Gen.Select(Percents, Restrictors, Supplies).Array[2, 4].Sample(trials =>
    {
        Reading[] readings = [.. trials.Select(t => On(t.Item1, t.Item2, t.Item3))];
        Assert.Equal(Judge(I4, "leak-down", readings), Judge(I4, "leak-down", readings.Reverse()));
    });

    /// <summary>What a tester at 80 psi shows for a hole, by halving.</summary>
    private static double ShownBy(double restrictorMm, double holeMm)
    {
        var (low, high) = (0.1, 99.9);
        while (high - low > 1e-9)
        {
            var middle = (low + high) / 2;
            (low, high) = LeakOrifice.DiameterMm(restrictorMm, KPa(80), KPa(80) * (1 - (middle / 100))) < holeMm ? (middle, high) : (low, middle);
        }

        return low;
    }

    private static double KPa(double psi) => UnitsNet.Pressure.FromPoundsForcePerSquareInch(psi).Kilopascals;
}
