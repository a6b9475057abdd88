using AngleSharp.Dom;
using Bunit;
using Microsoft.AspNetCore.Components;
using Microsoft.AspNetCore.Components.Forms;
using Microsoft.Extensions.DependencyInjection;
using ShopDiag.Diagnosis.BenchTests;
using ShopDiag.Storage.Recordings;
using ShopDiag.Storage.Shop;
using ShopDiag.Web.BalanceRuns;
using ShopDiag.Web.Components.Pages;
using ShopDiag.Web.Tests.Support;

namespace ShopDiag.Web.Tests.Obd;

/// <summary>The page over a real database: what is confirmed is on the order, and nothing else.</summary>
public sealed class ObdReaderTests() : OrderPageTest(new ShopSettings { Name = "Test shop" })
{
    private const string Log = """
        7E8 06 43 02 03 01 01 71
        7E8 10 14 49 02 01 31 47 31
        7E8 21 4A 43 35 34 34 34 52
        7E8 22 37 32 35 32 33 36 37
        7E8 10 0A 46 A2 0C 24 00 28
        7E8 21 00 00 FF FF
        7E8 04 41 0C 0B B8
        7E8 03 41 06 8F
        7E8 03 41 07 85
        """;

    [Fact]
    public async Task What_is_ticked_is_entered_once_and_the_rest_is_not()
    {
        var page = Paste(Log);
        page.WaitForAssertion(() => Assert.Contains("Misfire of cylinder 1", page.Find("#obd-says").ParentElement!.TextContent, StringComparison.Ordinal));
        Assert.Empty((await Orders.GetAsync(Order))!.Readings);

        page.Act(p => p.Find("#obd-trims-1").Change(false));
        page.Act(p => Confirm(p).Click());
        page.WaitForAssertion(() => Assert.Contains("2 of 4 entered", page.Markup, StringComparison.Ordinal));

        var order = (await Orders.GetAsync(Order))!;
        var reading = Assert.Single(order.Readings).Reading;
        Assert.Equal(["P0301", "P0171"], reading.Value.Texts("codes"));
        Assert.Equal(("trouble-codes", Stage.Before, "Read over OBD"), (reading.Test, reading.Stage, reading.Note));
        Assert.Equal("1G1JC5444R7252367", order.Vehicle.Vin);
        Assert.True(Confirm(page).IsDisabled());
    }

    [Fact]
    public async Task Misfire_counts_wait_for_their_revolutions()
    {
        var page = Paste(Log);
        page.WaitForElement("#obd-misfires");
        page.Act(p => p.Find("#obd-misfires").Change(true));
        page.Act(p => Confirm(p).Click());
        page.WaitForAssertion(() => Assert.Contains("over how many revolutions", page.Markup, StringComparison.Ordinal));

        page.Act(p => p.Find("#obd-rev-misfires").Change("1000"));
        page.Act(p => Confirm(p).Click());
        page.WaitForAssertion(() => Assert.Contains("4 of 4 entered", page.Markup, StringComparison.Ordinal));

        var counts = (await Orders.GetAsync(Order))!.Readings.Single(r => r.Reading.Test == "misfire-counts").Reading;
        Assert.Equal((1, 40.0, 1000.0), (counts.At.First, counts.Value.Number("misfires"), counts.Value.Number("revolutions")));
    }

    [Fact]
    public async Task The_engine_speed_of_a_log_goes_to_the_balance_run_as_a_recording_of_the_order()
    {
        // Two readings a second for half a minute: 750 rpm, and 690 for four seconds (quarters of a revolution, SAE J1979).
        var log = string.Concat(Enumerable.Range(0, 60).Select(i => FormattableString.Invariant($"({i / 2.0:0.000000}) can0 7E8#04410C{4 * (i is >= 20 and < 28 ? 690 : 750):X4}000000\n")));
        var page = Paste(log);
        page.WaitForAssertion(() => Assert.Contains("logged 60 times over 30 s", page.Markup, StringComparison.Ordinal));
        page.Act(p => p.FindAll("button").Single(b => b.TextContent.Contains("Take it to the balance run", StringComparison.Ordinal)).Click());
        page.WaitForAssertion(() => Assert.Contains($"/orders/{Number}/balance-run?show=", Services.GetRequiredService<NavigationManager>().Uri, StringComparison.Ordinal));

        var store = Services.GetRequiredService<RecordingStore>();
        var kept = Assert.Single(await store.OfOrderAsync(Order));
        Assert.Equal((RecordingKind.SpeedLog, 29.5, true, false), (kept.Kind, kept.Seconds, kept.Finished, kept.ConfirmedAt is not null));
        await using var file = store.OpenFile(kept.Id, kept.Kind)!;
        var run = RunAnalysis.Of(kept, file).Value;
        var drop = Assert.Single(run.Drops);
        Assert.Equal(60, drop.Measured.Drop, 1.0);
        Assert.Null(drop.Cylinder);
        Assert.Empty((await Orders.GetAsync(Order))!.Readings);
    }

    [Fact]
    public void A_file_is_read_like_what_is_pasted_and_nonsense_says_why()
    {
        var page = Render<ObdPage>(p => p.Add(c => c.Number, Number));
        page.WaitForElement("#obd-file");

        page.FindComponent<InputFile>().UploadFiles(InputFileContent.CreateFromText(Log, "obd.log"));
        page.WaitForAssertion(() => Assert.Contains("1G1JC5444R7252367", page.Markup, StringComparison.Ordinal));

        page.FindComponent<InputFile>().UploadFiles(InputFileContent.CreateFromText("Dear sir", "letter.txt"));
        page.WaitForAssertion(() => Assert.Contains("Nothing of OBD was found", page.Find("[role=alert]").TextContent, StringComparison.Ordinal));
        Assert.DoesNotContain("1G1JC5444R7252367", page.Markup, StringComparison.Ordinal);
    }

    private IRenderedComponent<ObdPage> Paste(string text)
    {
        var page = Render<ObdPage>(p => p.Add(c => c.Number, Number));
        page.WaitForElement("#obd-text");
        page.Act(p => p.Find("#obd-text").Change(text));
        page.Act(p => p.FindAll("button").Single(b => b.TextContent.Contains("Read what is pasted", StringComparison.Ordinal)).Click());
        return page;
    }

    private static IElement Confirm(IRenderedComponent<ObdPage> page) => page.WaitForElement(".button-big");
}
