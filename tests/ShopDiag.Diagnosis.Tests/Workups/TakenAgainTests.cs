using ShopDiag.Diagnosis.BenchTests;
using ShopDiag.Diagnosis.Workups;
using static ShopDiag.Diagnosis.Tests.Readings.Bench;

namespace ShopDiag.Diagnosis.Tests.Workups;

/// <summary>What happens when the trouble did not show itself, and when a new part did not help.</summary>
public sealed class TakenAgainTests
{
    private static Reading Swap(double? movedTo) => new()
    {
        Test = "coil-swap", At = Place.Cylinder(2),
        Value = new ReadingValue([KeyValuePair.Create("swappedWith", FieldValue.Of(1.0)), KeyValuePair.Create("misfireMovedTo", movedTo is { } m ? FieldValue.Of(m) : FieldValue.Null)]),
    };

    private static Assessment Assess(params Reading[] readings) => Diagnostician.Assess(new Workup { Engine = I4, Readings = [Spark, .. readings] }, Knowledge.Shipped);

    private static Reading Spark => new()
    {
        Test = "spark-output", At = Place.Cylinder(2), Value = new ReadingValue([KeyValuePair.Create("gapMm", FieldValue.Of(20.0)), KeyValuePair.Create("jumps", FieldValue.Of("weak"))]),
    };

    [Fact]
    public void A_swap_after_which_the_misfire_went_away_may_be_asked_for_once_more_and_no_oftener()
    {
        Assert.Contains(Assess(Swap(null)).Next, n => n.Test == "coil-swap" && n.At == Place.Cylinder(2));
        Assert.DoesNotContain(Assess(Swap(null), Swap(null)).Next, n => n.Test == "coil-swap" && n.At == Place.Cylinder(2));
    }

    [Fact]
    public void The_run_in_which_the_misfire_was_seen_counts_alone()
    {
        Assert.Equal("stays", Assess(Swap(null), Swap(2)).Findings.Single(f => f.Test == "coil-swap").Outcome);
        Assert.Equal(Probabilities(Assess(Swap(2))), Probabilities(Assess(Swap(null), Swap(2))));

        static string[] Probabilities(Assessment assessment) => [.. assessment.Causes.Select(c => $"{c.Cause} {c.At} {c.Probability:0.000000}")];
    }

    [Fact]
    public void A_second_swap_with_which_the_misfire_stays_clears_the_coil_further()
    {
        double Odds(params Reading[] swaps)
        {
            var answer = Assess(swaps);
            double Of(string cause) => answer.Causes.Single(c => c.Cause == cause && c.At == Place.Cylinder(2)).Probability;
            return Of("coil-failed") / Of("injector-clogged");
        }

        Assert.True(Odds(Swap(2), Swap(2)) < 0.6 * Odds(Swap(2)), $"{Odds(Swap(2))}, then {Odds(Swap(2), Swap(2))}");
    }

    [Fact]
    public void A_new_plug_that_did_not_help_takes_down_all_that_a_new_plug_mends()
    {
        var engine = I4;
        Reading[] after = [.. engine.Cylinders.Select(c => new Reading
        {
            Test = "misfire-counts", At = Place.Cylinder(c), Stage = Stage.After,
            Value = new ReadingValue([KeyValuePair.Create("misfires", FieldValue.Of(c == 2 ? 400.0 : 1)), KeyValuePair.Create("revolutions", FieldValue.Of(1000.0))]),
        })];
        var workup = new Workup { Engine = engine, Readings = [.. after], TriedRepairs = [new ProvenCause("plug-fouled", Place.Cylinder(2))] };
        var tried = Diagnostician.Assess(workup, Knowledge.Shipped);

        string[] plugs = ["plug-fouled", "plug-cracked", "plug-worn"];
        Assert.All(plugs, plug => Assert.InRange(tried.Causes.Single(c => c.Cause == plug && c.At == Place.Cylinder(2)).Probability, 0, 0.03));
    }
}
