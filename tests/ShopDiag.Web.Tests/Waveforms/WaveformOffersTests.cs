using ShopDiag.Diagnosis;
using ShopDiag.Diagnosis.BenchTests;
using ShopDiag.Diagnosis.Workups;
using ShopDiag.Signals.Waveforms.Cranking;
using ShopDiag.Signals.Waveforms.Recognition;
using ShopDiag.Web.Tests.WorkupViews;
using ShopDiag.Web.Waveforms;

namespace ShopDiag.Web.Tests.Waveforms;

public sealed class WaveformOffersTests
{
    [Fact]
    public void Humps_with_a_cylinder_are_offered_rounded()
    {
        var offers = WaveformOffers.From(Cranking([new('A', 3, 97.6, 0.4), new('B', 4, 71.2, 2.3), new('C', 2, 100, 0.4), new('D', 1, 99, 0.4)]), ABench.Four, null);

        Assert.Equal([3, 4, 2, 1], offers.Select(o => o.Readings[0].At.First));
        Assert.Equal([98.0, 71, 100, 99], offers.Select(o => o.Readings[0].Value.Number("relativePercent")!.Value));
        Assert.Equal("71 % (hump B, give or take 3)", offers[1].Words[0]);
        Holds(offers.SelectMany(o => o.Readings));
    }

    [Fact]
    public void Percentages_that_are_doubtful_are_shown_and_not_ticked()
    {
        var sure = Cranking([new('A', 3, 97, 0.4), new('B', 4, 71, 2.3), new('C', 2, 100, 0.4), new('D', 1, 99, 0.4)]);

        Assert.All(WaveformOffers.From(sure, ABench.Four, null), o => Assert.True(o.Proposed));
        Assert.All(WaveformOffers.From(sure with { Doubtful = true }, ABench.Four, null), o => Assert.False(o.Proposed));
    }

    [Fact]
    public void Humps_without_a_cylinder_follow_the_firing_order_from_the_one_that_is_said()
    {
        var cranking = Cranking([new('A', null, 97, 1), new('B', null, 70, 1), new('C', null, 100, 1), new('D', null, 99, 1)]);

        Assert.Empty(WaveformOffers.From(cranking, ABench.Four, null));
        Assert.Equal([4, 2, 1, 3], WaveformOffers.From(cranking, ABench.Four, 4).Select(o => o.Readings[0].At.First));
    }

    [Fact]
    public void Misfires_are_offered_over_revolutions_and_only_where_the_cylinder_is_known()
    {
        var teeth = new WaveformAnalysis
        {
            Kind = WaveformKind.ToothTimes, Channel = 0, Findings = [], Reasons = [],
            Work =
            [
                new() { Cylinder = 1, CouldBe = [1], Cycles = 120, Misfires = 14, Misfiring = true, WorkPercent = 80 },
                new() { Cylinder = null, CouldBe = [3, 2], Cycles = 120, Misfires = 0, Misfiring = false, WorkPercent = null },
            ],
        };

        var reading = Assert.Single(Assert.Single(WaveformOffers.From(teeth, ABench.Four, null)).Readings);

        Assert.Equal((14.0, 240.0), (reading.Value.Number("misfires"), reading.Value.Number("revolutions")));
        Holds([reading]);
    }

    [Theory]
    [InlineData(WaveformKind.InjectorCurrent, "injector-control", "pulsing")]
    [InlineData(WaveformKind.CoilCurrent, "coil-control", "present")]
    public void A_windings_current_is_a_signal_with_its_findings_as_a_note(WaveformKind kind, string test, string signal)
    {
        var winding = new WaveformAnalysis { Kind = kind, Channel = 1, Findings = ["Peak current 6.9 A.", new string('x', 1000)], Reasons = [] };

        Assert.Empty(WaveformOffers.From(winding, ABench.Four, null));
        var reading = Assert.Single(Assert.Single(WaveformOffers.From(winding, ABench.Four, 3)).Readings);

        Assert.Equal((test, 3, signal), (reading.Test, reading.At.First, reading.Value.Text("signal")));
        Assert.StartsWith("Read of the current. Peak current 6.9 A.", reading.Note, StringComparison.Ordinal);
        Assert.True(reading.Note!.Length <= 400);
        Holds([reading]);
    }

    private static WaveformAnalysis Cranking(CylinderCompression[] compression) =>
        new() { Kind = WaveformKind.CrankingCurrent, Channel = 1, Compression = [.. compression], Findings = [], Reasons = [] };

    /// <summary>The sheet takes them as they are.</summary>
    private static void Holds(IEnumerable<Reading> readings) =>
        Assert.All(readings, r => Assert.Null(ReadingCheck.Error(r, Knowledge.Shipped.Test(r.Test)!, ABench.Four)));
}
