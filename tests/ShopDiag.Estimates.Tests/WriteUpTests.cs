using ShopDiag.Diagnosis;
using ShopDiag.Diagnosis.Workups;

namespace ShopDiag.Estimates.Tests;

public sealed class WriteUpTests
{
    private static readonly WriteUpSource Coil = new()
    {
        ConcernText = "Shakes at traffic lights",
        Concern = new() { Codes = ["P0304"], Lamp = Lamp.Flashing, When = ["idle", "wet"] },
        Finding = new(
            [new("coil-failed", Place.Cylinder(4))],
            [new("coil-swap", Place.Cylinder(4), "follows", "the misfire moved with the coil to cylinder 1")],
            RepairPlan.For(Samples.V6, [(Knowledge.Shipped.Cause("coil-failed")!, Place.Cylinder(4))])),
    };

    [Fact]
    public void Concern_cause_and_correction_say_what_the_order_says()
    {
        Assert.Equal(
            "Customer states: Shakes at traffic lights. It happens at idle and in wet weather. Warning lamp flashing. Codes stored: P0304.",
            WriteUpDraft.Concern(Coil));
        var cause = WriteUpDraft.Cause(Coil, Knowledge.Shipped);
        Assert.Contains("Ignition coil failed, cylinder 4.", cause, StringComparison.Ordinal);
        Assert.Contains("the misfire moved with the coil to cylinder 1.", cause, StringComparison.Ordinal);
        Assert.StartsWith("To do: replace the ignition coil of cylinder 4.", WriteUpDraft.Correction(Coil, Knowledge.Shipped), StringComparison.Ordinal);
    }

    [Fact]
    public void After_the_repair_it_says_what_was_fitted()
    {
        var done = Coil with
        {
            Repaired = true,
            Fitted = [new() { Id = Guid.Empty, OrderId = Guid.Empty, LineId = Guid.Empty, Text = "Ignition coil", Position = "cylinder 4", Quantity = 1, PartNumber = "IC-4" }],
        };
        Assert.Equal("Done: replace the ignition coil of cylinder 4. Fitted: 1 × Ignition coil (cylinder 4), number IC-4.", WriteUpDraft.Correction(done, Knowledge.Shipped));
    }

    [Fact]
    public void Without_proof_it_says_so_and_why() => Assert.Contains(
        "Not proven; gone on with because the customer asked for it.",
        WriteUpDraft.Cause(Coil with { UnprovenReason = "The customer asked for it." }, Knowledge.Shipped),
        StringComparison.Ordinal);

    [Fact]
    public void Nothing_known_gives_nothing()
    {
        var nothing = new WriteUpSource();
        Assert.Equal("", WriteUpDraft.Concern(nothing) + WriteUpDraft.Cause(nothing, Knowledge.Shipped) + WriteUpDraft.Correction(nothing, Knowledge.Shipped));
    }
}
