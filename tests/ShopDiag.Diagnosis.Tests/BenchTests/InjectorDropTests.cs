using CsCheck;
using ShopDiag.Diagnosis.BenchTests;
using ShopDiag.Diagnosis.Engines;
using ShopDiag.Diagnosis.Workups;
using static ShopDiag.Diagnosis.Tests.Readings.Bench;

namespace ShopDiag.Diagnosis.Tests.Readings;

public sealed class InjectorDropTests
{
    private const string Window = "injector-drop-window-kpa";

    private static readonly Engine Twenty = I4.With((Window, 20));

    private static Reading Drop(int cylinder, double end, double start = 379) => At(cylinder, N("startKPa", start), N("endKPa", end));

    private static System.Collections.Immutable.ImmutableArray<Finding> Drops(Engine engine, params double[] ends) => Judge(engine, "injector-drop", ends.Select((e, i) => Drop(i + 1, e)));

    /// <summary>
    /// D27: GM's example, 20 kPa either way (Pontiac 2007 Vibe, Hummer 2005 H2, Chevrolet 2003 Monte Carlo, Saturn 2005 Relay): from 379 to 280, 310, 340, 317 kPa;
    /// drops 99, 69, 39, 62, average 67.25, window 47 to 87; cylinder 1 too much, 3 too little.
    /// </summary>
    [Fact]
    public void D27_injector_balance_of_four()
    {
        var findings = Drops(Twenty, 280, 310, 340, 317);

        Assert.Equal([99, 69, 39, 62], findings.Select(f => f.Measure!.Value));
        Assert.Equal("high-delivery even low-delivery even", findings.Outcomes());
        Assert.Equal(
            "The pressure fell by 99 kPa (14 psi): above 47 to 87 kPa, which is 20 kPa (this engine's limit) either way of the average 67 kPa (10 psi), GM's rule.",
            findings.On(1).Because);
        Assert.All(findings, f => Assert.False(f.ByDefaultLimit));
    }

    [Theory]
    [InlineData("all alike", "even even even even", 314.0, 316.0, 313.0, 318.0)]
    [InlineData("at the window's edge", "even even even even", 309.0, 309.0, 309.0, 309.0)]
    [InlineData("one too little, the others stay inside", "even even even low-delivery", 314.0, 314.0, 314.0, 329.0)]
    [InlineData("one too much, the others stay inside", "even even even high-delivery", 314.0, 314.0, 314.0, 299.0)]
    public void Ten_kilopascal_either_way_of_the_average_are_even(string _, string outcomes, params double[] ends) => Assert.Equal(outcomes, Drops(I4, ends).Outcomes());

    [Fact]
    public void One_extreme_injector_pulls_the_average_but_condemns_no_other()
    {
        // Drops 65, 65, 65, 0: average 48.75, window 38.75 to 58.75. By GM's rule alone three sound injectors would be too much.
        var findings = Drops(I4, 314, 314, 314, 379);

        Assert.Equal("- - - low-delivery", findings.Outcomes());
        Assert.Contains("one extreme injector has pulled that average", findings.On(1).Because, StringComparison.Ordinal);
    }

    [Fact]
    public void Too_few_to_compare_cannot_tell()
    {
        Assert.Equal("- -", Drops(I4, 314, 350).Outcomes());
        Assert.Contains("the other injectors too", JudgeOne(I4, "injector-drop", Drop(4, 316, 380)).Because, StringComparison.Ordinal);
    }

    [Fact]
    public void An_engine_of_two_cannot_say_which_one_is_wrong()
    {
        var two = Make("I2", [[1, 2]], [1, 2]);
        Assert.Equal("even even", Drops(two, 314, 318).Outcomes());
        Assert.Equal("- -", Drops(two, 314, 360).Outcomes());
    }

    [Theory]
    [InlineData("another starting pressure", 240, 300)]
    [InlineData("a pressure that rose", 390, 379)]
    public void A_drop_that_cannot_be_compared_leaves_the_others_alone(string _, double end, double start)
    {
        var findings = Judge(I4, "injector-drop", Drop(1, 314), Drop(2, 316), Drop(3, 312), Drop(4, end, start));
        Assert.Equal("even even even -", findings.Outcomes());
    }

    [Fact]
    public void A_pulse_too_short_to_show_anything_cannot_tell() => Assert.Equal("- - - -", Drops(I4, 373, 374, 372, 379).Outcomes());

    [Fact]
    public void Trials_on_both_sides_of_the_window_are_taken_again()
    {
        var findings = Judge(I4, "injector-drop", Drop(1, 314), Drop(2, 314), Drop(3, 314), Drop(4, 316), Drop(4, 340));
        Assert.True(findings.On(4) is { Outcome: null, TrialsDisagree: true });
    }

    [Fact]
    public void Any_drops_are_answered_and_numbering_them_otherwise_numbers_the_findings_otherwise() =>
        Gen.Select(Gen.Double[0, 700].Array[4], Gen.Double[0, 700].Array[4], Numberings).Sample((starts, ends, number) =>
        {
            IEnumerable<Finding> Round(Func<int, int> numbered) => Judge(I4, "injector-drop", Enumerable.Range(0, 4).Select(i => Drop(numbered(i), ends[i], starts[i])));
            Assert.Equal(Round(i => i + 1).Select(f => f with { At = Place.Cylinder(number[f.At.First - 1]) }).OrderBy(f => f.At), Round(i => number[i]));
        });

    [Fact]
    public void Only_one_that_is_outside_the_average_and_the_others_middle_is_called_wrong() =>
        Gen.Double[300, 378].Array[3, 8].Sample(ends =>
        {
            double[] drops = [.. ends.Select(e => 379 - e)];
            var engine = Make($"I{ends.Length}", [[.. Enumerable.Range(1, ends.Length)]], [.. Enumerable.Range(1, ends.Length)]);
            foreach (var wrong in Drops(engine, ends).Where(f => f.Outcome is "low-delivery" or "high-delivery"))
            {
                var away = wrong.Measure!.Value - drops.Average();
                Assert.True(Math.Abs(away) > 10 - 1e-9);
                Assert.Equal(away > 0, wrong.Outcome == "high-delivery");
            }
        });
}
