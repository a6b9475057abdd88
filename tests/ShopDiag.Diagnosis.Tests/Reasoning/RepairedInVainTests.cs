using ShopDiag.Diagnosis.BenchTests;
using ShopDiag.Diagnosis.Causes;
using ShopDiag.Diagnosis.Tests.Workups;
using ShopDiag.Diagnosis.Workups;

namespace ShopDiag.Diagnosis.Tests.Reasoning;

/// <summary>What was repaired and did not end the trouble is named again by its proof only when it is all but certain, and never tried again.</summary>
public sealed class RepairedInVainTests
{
    private const double NineInTen = 0.9;
    private static readonly Place One = Place.Cylinder(1);

    // How often the tell-tale looks bad with the other cause: so likely is the coil once more, of 3 % that are left of it against all of the plug (worked out by hand).
    [Theory]
    [InlineData(0.05, 0.03 / (0.03 + 0.05))]
    [InlineData(0.01, 0.03 / (0.03 + 0.01))]
    [InlineData(0.001, 0.03 / (0.03 + 0.001))]
    public void It_is_concluded_again_from_nine_in_ten_on_only(double plugLooksBad, double likely)
    {
        var world = World(plugLooksBad);
        var untried = Diagnostician.Assess(SmallWorld.Workup(SmallWorld.Twin, Pull, Look), world);
        var again = Diagnostician.Assess(SmallWorld.Workup(SmallWorld.Twin, Pull, Pull with { Stage = Stage.After }, Look with { Stage = Stage.After }) with { TriedRepairs = [new ProvenCause("coil", One)] }, world);

        Assert.Equal(new ProvenCause("coil", One), Assert.Single(untried.Conclusion!.Causes));
        // The pull reads alike with both, and what it may overlook moves the figure by little.
        Assert.InRange(again.Cause("coil", One).Probability, likely - 0.08, likely + 0.03);
        Assert.Equal(likely >= NineInTen, again.Conclusion is not null);
        Assert.DoesNotContain(again.Next, n => n.Unproven);
    }

    private static Reading Pull => SmallWorld.Seen("pull", One, "bad");

    private static Reading Look => SmallWorld.Seen("look", One, "bad");

    private static Knowledge World(double plugLooksBad)
    {
        var pull = SmallWorld.Rule("pull", Relation.Here, ("bad", .9), ("fine", .1));
        var coil = SmallWorld.Cause("coil", CauseScope.Cylinder, .5, alone: true, pull, SmallWorld.Rule("look", Relation.Here, ("bad", .999), ("fine", .001)));
        return SmallWorld.Knowledge(
            [SmallWorld.Test("pull", TestScope.Cylinder, 0, 5, ("bad", .01), ("fine", .99)), SmallWorld.Test("look", TestScope.Cylinder, 0, 5, ("bad", plugLooksBad), ("fine", 1 - plugLooksBad))],
            [
                coil with { Proof = [new ProofRule([new OutcomeAt("look", ["bad"])], "made up")] },
                SmallWorld.Cause("plug", CauseScope.Cylinder, .5, alone: true, pull),
            ]);
    }
}
