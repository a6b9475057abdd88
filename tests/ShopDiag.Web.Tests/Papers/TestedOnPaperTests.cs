using System.Collections.Immutable;
using ShopDiag.Diagnosis;
using ShopDiag.Diagnosis.BenchTests;
using ShopDiag.Diagnosis.Workups;
using ShopDiag.Reports.Models;
using ShopDiag.Web.Papers;
using ShopDiag.Web.Tests.WorkupViews;

namespace ShopDiag.Web.Tests.Papers;

/// <summary>Tests that are read once for the engine or a bank, on the customer's paper.</summary>
public sealed class TestedOnPaperTests
{
    [Fact]
    public void A_number_read_for_the_engine_stands_with_its_unit_and_word()
    {
        var test = Assert.Single(Tested(ABench.Reading("fuel-pressure", Place.Engine, ("kPa", FieldValue.Of(150)))));
        Assert.Equal(("Fuel pressure", new ReadingOnPaper(Place.Engine, "150 kPa", "low", Verdict.Bad)), (test.Title, Assert.Single(test.Readings)));
    }

    [Fact]
    public void Only_the_conditions_that_were_named_are_told()
    {
        var test = Assert.Single(Tested(ABench.Reading("road-check", Place.Engine, ("conditions", FieldValue.Of("cold", "wet")))));
        Assert.Equal(["misfires cold", "misfires in the wet"], test.Readings.Select(r => r.Outcome));
        Assert.All(test.Readings, r => Assert.Equal((Place.Engine, "", Verdict.Bad), (r.At, r.Text, r.Verdict)));
    }

    [Fact]
    public void A_drive_without_a_misfire_is_told_too()
    {
        var test = Assert.Single(Tested(ABench.Reading("road-check", Place.Engine, ("conditions", FieldValue.Null))));
        Assert.Equal(new ReadingOnPaper(Place.Engine, "", "It did not misfire during the drive", Verdict.Good), Assert.Single(test.Readings));
    }

    [Theory]
    [InlineData("yes", "gone", Verdict.Bad)]
    [InlineData("no", "stays", Verdict.Neutral)]
    public void Yes_and_no_come_to_the_outcomes_word(string given, string outcome, Verdict verdict)
    {
        var test = Assert.Single(Tested(ABench.Reading("egr-block", Place.Engine, ("misfireGone", FieldValue.Of(given)))));
        Assert.Equal(new ReadingOnPaper(Place.Engine, "", outcome, verdict), Assert.Single(test.Readings));
    }

    [Fact]
    public void Banks_stand_each_for_itself()
    {
        var trims = new[] { 1, 2 }.Select(bank => ABench.Reading(
            "fuel-trims", Place.Bank(bank), ("idle.shortPercent", FieldValue.Of(2)), ("idle.longPercent", FieldValue.Of(bank == 1 ? 1 : -20)))).ToArray();
        var test = Assert.Single(Tested(trims));
        Assert.Equal([(Place.Bank(1), "normal"), (Place.Bank(2), "rich")], test.Readings.Select(r => (r.At, r.Outcome)));
    }

    private static ImmutableArray<TestOnPaper> Tested(params Reading[] readings)
    {
        var workup = new Workup { Engine = ABench.V6, Readings = [.. readings] };
        return new TestedOnPaper(Knowledge.Shipped, ABench.Metric).Tests(workup, Diagnostician.Assess(workup, Knowledge.Shipped));
    }
}
