using System.Collections.Immutable;
using ShopDiag.Diagnosis;
using ShopDiag.Diagnosis.BenchTests;
using ShopDiag.Diagnosis.Engines;
using ShopDiag.Diagnosis.Workups;
using ShopDiag.Obd.Findings;
using ShopDiag.Obd.Logs;
using ShopDiag.Signals.SpeedLogs;
using ShopDiag.Web.Obd;

namespace ShopDiag.Web.Tests.Obd;

public sealed class ObdOffersTests
{
    private static readonly Engine Four = Engine.Create(Spec([[1, 2, 3, 4]], [1, 3, 4, 2])).Value;

    /// <summary>Cylinder 1 is on the second bank.</summary>
    private static readonly Engine Six = Engine.Create(Spec([[4, 5, 6], [1, 2, 3]], [1, 4, 2, 5, 3, 6])).Value;

    [Fact]
    public void Codes_become_one_reading_with_their_words_and_the_freeze_frame()
    {
        var offer = Assert.Single(Offers(Four, "7E8 06 43 02 03 01 01 71", "7E8 04 47 01 03 00", "7E8 05 42 02 00 03 01", "7E8 05 42 0C 00 0B B8"));

        var reading = Assert.Single(offer.Readings);
        Assert.Equal(["P0301", "P0171", "P0300"], reading.Value.Texts("codes"));
        Assert.Equal("P0301: engine speed 750 rpm", reading.Value.Text("freezeFrame"));
        Assert.Contains("P0301 (stored): Misfire of cylinder 1", offer.Words);
        Assert.True(offer.Proposed);
    }

    [Fact]
    public void No_codes_are_a_reading_too_and_silence_is_none()
    {
        var none = Assert.Single(Assert.Single(Offers(Four, "7E8 02 43 00")).Readings);

        Assert.True(none.Value.Has("codes"));
        Assert.Empty(none.Value.Texts("codes"));
        Assert.Empty(Offers(Four, "7E8 02 47 00"));
        Assert.Empty(Offers(Four, "7E8 04 41 0C 0B B8"));
    }

    [Fact]
    public void After_a_clearing_only_the_newest_codes_are_proposed()
    {
        var offers = Offers(Four, "7E8 04 43 01 03 01", "7E8 01 44", "7E8 02 43 00");

        Assert.Equal([false, true], offers.Select(o => o.Proposed));
        Assert.Contains("cleared later", offers[0].Caution, StringComparison.Ordinal);
    }

    [Fact]
    public void Trims_go_to_the_bank_that_holds_cylinder_1()
    {
        string[] lines = ["7E8 04 41 0C 0B B8", "7E8 03 41 06 8F", "7E8 03 41 07 85", "7E8 03 41 08 80", "7E8 03 41 09 80", "7E8 03 41 05 7B"];

        var six = Offers(Six, lines);
        var four = Offers(Four, lines);

        Assert.Equal([2, 1], six.Select(o => o.Readings[0].At.First));
        Assert.Equal((11.7, 3.9), (six[0].Readings[0].Value.Number("idle.shortPercent"), six[0].Readings[0].Value.Number("idle.longPercent")));
        Assert.All(six, o => Assert.True(o.Readings[0].Warm));
        Assert.Single(four);
    }

    [Fact]
    public void Counts_without_revolutions_wait_for_them_and_cylinders_that_the_engine_lacks_are_left_out()
    {
        var offer = Assert.Single(Offers(Four, "46 A2 0C 24 00 07 00 00 FF FF A6 0C 24 00 07 00 00 FF FF"));
        var complete = offer.WithRevolutions(1000);

        Assert.True(offer is { NeedsRevolutions: true, Proposed: false });
        Assert.Equal((7.0, 1000.0), (Assert.Single(complete.Readings).Value.Number("misfires"), complete.Readings[0].Value.Number("revolutions")));
        Assert.Null(Error(complete.Readings[0], Four));
    }

    [Fact]
    public void Every_reading_that_is_offered_passes_the_checks_of_a_typed_one()
    {
        List<string> lines = ["(0.0) can0 7E8#0443010301", "(0.01) can0 7E8#05420C000BB8"];
        for (var i = 0; i < 40; i++)
        {
            lines.Add(FormattableString.Invariant($"({i}.1) can0 7E8#04410C0BB8"));
            lines.Add(FormattableString.Invariant($"({i}.2) can0 7E8#034106{(i * 6) % 256:X2}"));
            lines.Add(FormattableString.Invariant($"({i}.3) can0 7E8#03410785"));
            lines.AddRange(i is 0 or 39 ? [FormattableString.Invariant($"({i}.4) can0 7E8#100A46A30C24{i:X4}"), FormattableString.Invariant($"({i}.41) can0 7E8#210000FFFF")] : []);
        }

        var findings = ObdFindings.From(ObdLog.Read(string.Join('\n', lines)).Value);
        var offers = ObdOffers.From(findings, Four);

        Assert.Equal(["codes-0", "misfires", "trims-1"], offers.Select(o => o.Key));
        Assert.All(offers.SelectMany(o => o.Readings), r => Assert.Null(Error(r, Four)));
        Assert.Equal(39, offers[1].Readings[0].Value.Number("misfires"));
        Assert.Equal(39.0 * 750 / 60, offers[1].Readings[0].Value.Number("revolutions")!.Value, 1.0);
        var trace = ObdOffers.Speed(findings)!;
        Assert.Equal((40, 0.25, 0.0), (trace.Points.Length, trace.StepRpm, trace.Points[0].Seconds));
        using var log = new MemoryStream(System.Text.Encoding.UTF8.GetBytes(ObdOffers.SpeedLog(findings)));
        Assert.Equal(trace.Points.Select(p => p.Rpm), SpeedLog.Read(log, new()).Value.Points.Select(p => p.Rpm));
    }

    [Fact]
    public void A_vin_is_proposed_when_it_is_the_only_one_and_its_check_digit_fits()
    {
        const string Good = "49 02 01 31 47 31 4A 43 35 34 34 34 52 37 32 35 32 33 36 37";
        const string Wrong = "49 02 01 31 47 31 4A 43 35 34 34 34 52 37 32 35 32 33 36 38";

        Assert.True(Assert.Single(Offers(null, Good)).Proposed);
        Assert.Contains("check digit", Assert.Single(Offers(null, Wrong)).Caution, StringComparison.Ordinal);
        Assert.All(Offers(null, Good, Wrong), o => Assert.False(o.Proposed));
    }

    private static ImmutableArray<ObdOffer> Offers(Engine? engine, params string[] lines) => ObdOffers.From(ObdFindings.From(ObdLog.Read(string.Join('\n', lines)).Value), engine);

    private static InputError? Error(Reading reading, Engine engine) => ReadingCheck.Error(reading, Knowledge.Shipped.Test(reading.Test)!, engine);

    private static EngineSpec Spec(int[][] banks, int[] order) => new()
    {
        Layout = banks.Length == 1 ? "I4" : "V6",
        Banks = [.. banks.Select(b => ImmutableArray.Create(b))],
        FiringOrder = [.. order],
        Ignition = Ignition.CoilOnPlug,
        Injection = Injection.Port,
    };
}
