using ShopDiag.Diagnosis.BenchTests;
using ShopDiag.Diagnosis.Engines;
using ShopDiag.Diagnosis.Workups;

namespace ShopDiag.Diagnosis.Tests;

public sealed class RepairCheckTests
{
    private static readonly Engine Four = Engine.Create(new EngineSpec
    {
        Layout = "I4", Banks = [[1, 2, 3, 4]], FiringOrder = [1, 3, 4, 2], Ignition = Ignition.CoilOnPlug, Injection = Injection.Port,
    }).Value;

    private static Reading Balance(int cylinder, double drop, Stage stage) => new()
    {
        Test = "power-balance",
        At = Place.Cylinder(cylinder),
        Stage = stage,
        Value = new ReadingValue([KeyValuePair.Create("baseRpm", FieldValue.Of(700)), KeyValuePair.Create("cancelledRpm", FieldValue.Of(700 - drop))]),
    };

    private static RepairCheck Check(params Reading[] readings) =>
        RepairCheck.Of(Diagnostician.Assess(new Workup { Id = "w", Engine = Four, Readings = [.. readings] }, Knowledge.Shipped), Knowledge.Shipped);

    private static Reading[] Run(Stage stage, params double[] drops) => [.. drops.Select((d, i) => Balance(i + 1, d, stage))];

    [Fact]
    public void Nothing_taken_after_the_repair_proves_nothing()
    {
        var check = Check(Run(Stage.Before, 60, 62, 2, 61));
        Assert.Equal(RepairVerdict.NotTaken, check.Verdict);
        Assert.Equal([Place.Cylinder(3)], check.Pairs.Select(p => p.At));
    }

    [Fact]
    public void The_dead_cylinder_that_pulls_again_is_mended()
    {
        var check = Check([.. Run(Stage.Before, 60, 62, 2, 61), .. Run(Stage.After, 59, 61, 60, 60)]);
        Assert.Equal(RepairVerdict.Good, check.Verdict);
        var third = check.Pairs.Single(p => p.At == Place.Cylinder(3));
        Assert.Equal((true, false, "dead", "contributing"), (third.TroubleBefore, third.TroubleAfter, third.Before!.Outcome, third.After!.Outcome));
    }

    [Fact]
    public void A_cylinder_still_dead_is_named()
    {
        var check = Check([.. Run(Stage.Before, 60, 62, 2, 61), .. Run(Stage.After, 59, 61, 3, 60)]);
        Assert.Equal(RepairVerdict.StillTrouble, check.Verdict);
        Assert.Contains("cylinder 3", check.InWords, StringComparison.Ordinal);
    }

    [Fact]
    public void Another_cylinder_gone_dead_is_trouble_too() =>
        Assert.Equal(RepairVerdict.StillTrouble, Check([.. Run(Stage.Before, 60, 62, 2, 61), .. Run(Stage.After, 2, 61, 60, 60)]).Verdict);

    [Fact]
    public void A_good_reading_that_does_not_speak_of_the_fault_is_not_enough()
    {
        var compression = new Reading { Test = "compression-dry", At = Place.Cylinder(3), Stage = Stage.After, Value = new ReadingValue([KeyValuePair.Create("kPa", FieldValue.Of(1250))]) };
        Assert.Equal(RepairVerdict.Incomplete, Check([.. Run(Stage.Before, 60, 62, 2, 61), compression]).Verdict);
    }
}
