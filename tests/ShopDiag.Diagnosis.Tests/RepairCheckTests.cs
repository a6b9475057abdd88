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

    private static Reading Counts(int cylinder, double misfires, Stage stage) => Of("misfire-counts", Place.Cylinder(cylinder), stage, ("misfires", misfires), ("revolutions", 1000));

    private static Reading Trims(double idle, Stage stage) => Of("fuel-trims", Place.Bank(1), stage, ("idle.shortPercent", 0), ("idle.longPercent", idle));

    private static Reading Of(string test, Place at, Stage stage, params (string Field, double Value)[] values) =>
        new() { Test = test, At = at, Stage = stage, Value = new ReadingValue([.. values.Select(v => KeyValuePair.Create(v.Field, FieldValue.Of(v.Value)))]) };

    private static Reading Words(string test, Stage stage, string field, params string[] words) =>
        new() { Test = test, At = Place.Engine, Stage = stage, Value = new ReadingValue([KeyValuePair.Create(field, new FieldValue { Texts = [.. words] })]) };

    private static RepairCheck Check(params Reading[] readings) => Check(new Concern(), readings);

    private static RepairCheck Check(Concern concern, params Reading[] readings) =>
        RepairCheck.Of(new Workup { Id = "w", Engine = Four, Concern = concern, Readings = [.. readings] }, Knowledge.Shipped);

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

    [Fact]
    public void What_else_showed_the_trouble_and_was_not_taken_again_is_named()
    {
        Reading[] readings = [Trims(-24, Stage.Before), .. Run(Stage.Before, 60, 62, 2, 61), .. Run(Stage.After, 59, 61, 60, 60)];
        var concern = new Concern { Codes = ["P0303"], When = ["cold", "idle", "after-work"] };
        var check = Check(concern, readings);
        Assert.Equal(RepairVerdict.Good, check.Verdict);
        // Idling in the shop is the balance, and nothing can be driven "since work was done".
        Assert.EndsWith("was not taken again: Trouble codes, cylinder 3; Road check (misfires cold); Fuel trims, bank 1.", check.InWords, StringComparison.Ordinal);
        var driven = Check(concern, [.. readings, Words("road-check", Stage.After, "conditions"), Words("trouble-codes", Stage.After, "codes"), Trims(2, Stage.After)]);
        Assert.Equal((RepairVerdict.Good, "The readings after the repair are good: what showed the fault no longer does."), (driven.Verdict, driven.InWords));
        Assert.Contains("Road check (misfires cold)", Check(concern, [.. readings, Words("road-check", Stage.After, "conditions", "cold")]).InWords, StringComparison.Ordinal);
    }

    [Fact]
    public void A_balance_that_was_good_while_it_misfired_proves_nothing_by_being_good_again()
    {
        Reading[] readings =
        [
            .. Run(Stage.Before, 60, 62, 61, 61), Counts(1, 0, Stage.Before), Counts(2, 0, Stage.Before), Counts(3, 90, Stage.Before), Counts(4, 0, Stage.Before),
            .. Run(Stage.After, 59, 61, 60, 60),
        ];
        var again = Check(readings);
        Assert.Equal(RepairVerdict.Incomplete, again.Verdict);
        Assert.Contains("Take again what showed the trouble: Misfire counts, cylinder 3.", again.InWords, StringComparison.Ordinal);
        // Nor do codes that were cleared.
        Assert.Equal(RepairVerdict.Incomplete, Check(new Concern { Codes = ["P0303"] }, [.. readings, Words("trouble-codes", Stage.After, "codes")]).Verdict);
        Assert.Equal(RepairVerdict.Good, Check([.. readings, Counts(3, 0, Stage.After)]).Verdict);
        Assert.Equal(RepairVerdict.StillTrouble, Check([.. readings, Counts(3, 80, Stage.After)]).Verdict);
    }

    [Fact]
    public void A_balance_that_was_never_taken_before_says_something_new()
    {
        var check = Check(new Concern { Codes = ["P0303"] }, Run(Stage.After, 59, 61, 60, 60));
        Assert.Equal(RepairVerdict.Good, check.Verdict);
        Assert.EndsWith("Trouble codes, cylinder 3.", check.InWords, StringComparison.Ordinal);
    }

    [Fact]
    public void A_swap_and_a_look_at_the_old_plug_are_not_asked_for_again()
    {
        var swap = Of("coil-swap", Place.Cylinder(3), Stage.Before, ("swappedWith", 1), ("misfireMovedTo", 1));
        var plug = new Reading { Test = "plug-condition", At = Place.Cylinder(3), Value = new ReadingValue([KeyValuePair.Create("look", FieldValue.Of("cracked"))]) };
        var check = Check([.. Run(Stage.Before, 60, 62, 2, 61), swap, plug, .. Run(Stage.After, 59, 61, 60, 60)]);
        Assert.Equal(["coil-swap", "plug-condition"], check.Pairs.Where(p => p is { TroubleBefore: true, After: null }).Select(p => p.Test));
        Assert.EndsWith("what showed the fault no longer does.", check.InWords, StringComparison.Ordinal);
    }

    [Fact]
    public void A_check_is_done_when_it_came_to_an_answer_good_or_not()
    {
        var before = Run(Stage.Before, 60, 62, 2, 61);
        Assert.Equal([false, false, true, true], new[] { Check(before), Check([.. before, Trims(0, Stage.After)]), Check([.. before, .. Run(Stage.After, 59, 61, 3, 60)]), Check([.. before, .. Run(Stage.After, 59, 61, 60, 60)]) }.Select(c => c.IsDone));
    }

    [Fact]
    public void A_reading_that_cannot_tell_is_not_taken_again()
    {
        // Lean at idle alone says nothing until it is taken at speed too.
        Reading[] readings = [Trims(-24, Stage.Before), .. Run(Stage.Before, 60, 62, 2, 61), Trims(24, Stage.After), .. Run(Stage.After, 59, 61, 60, 60)];
        var check = Check(readings);
        var trims = check.Pairs.Single(p => p.Test == "fuel-trims");
        Assert.Equal((true, null, false), (trims.TroubleBefore, trims.After!.Outcome, trims.IsSettled));
        Assert.EndsWith("was not taken again: Fuel trims, bank 1 (cannot tell).", check.InWords, StringComparison.Ordinal);
    }

    [Fact]
    public void A_code_that_is_no_longer_stored_is_gone_and_proves_no_cylinder_pulling()
    {
        var concern = new Concern { Codes = ["P0303", "P0171"] };
        var check = Check(concern, Words("trouble-codes", Stage.After, "codes"));
        Assert.All(check.Pairs, p => Assert.Equal((true, true, false), (p.TroubleBefore, p.IsSettled, p.TroubleAfter)));
        Assert.Equal([Place.Bank(1), Place.Cylinder(3)], check.Pairs.Select(p => p.At).Order());
        Assert.Equal(RepairVerdict.Incomplete, check.Verdict);
        Assert.EndsWith("shows that cylinder 3 pulls.", check.InWords, StringComparison.Ordinal);
        Assert.Equal(RepairVerdict.StillTrouble, Check(concern, Words("trouble-codes", Stage.After, "codes", "P0303")).Verdict);
    }
}
