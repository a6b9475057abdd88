using Bunit;
using Microsoft.Extensions.DependencyInjection;
using ShopDiag.Signals.Measured.Cranking;
using ShopDiag.Signals.Measured.Engines;
using ShopDiag.Storage.Shop;
using ShopDiag.Web.Components.Pages;
using ShopDiag.Web.Components.WaveformViews;
using ShopDiag.Web.Tests.Support;
using ShopDiag.Web.Waveforms;

namespace ShopDiag.Web.Tests.Waveforms;

/// <summary>The page over a real database, with the browser's sending of the file left out: the file is put where it would arrive.</summary>
public sealed class WaveformReaderTests : OrderPageTest
{
    /// <summary>A cranking is fitted in some seconds, on a busy machine in minutes.</summary>
    private static readonly TimeSpan Patient = TimeSpan.FromMinutes(8);

    private readonly string _data = Directory.CreateTempSubdirectory("shopdiag-waveform-").FullName;
    private readonly WaveformUploads _uploads;

    public WaveformReaderTests()
        : base(new ShopSettings { Name = "Test shop" })
    {
        _uploads = new WaveformUploads(_data);
        Services.AddSingleton(_uploads);
    }

    [Fact]
    public async Task A_cranking_is_recognised_drawn_and_entered_once_for_the_ticked_cylinders()
    {
        var page = await ShowAsync(Cranking());
        page.WaitForAssertion(() => Assert.Contains("Taken for cranking current", page.Markup, StringComparison.Ordinal), Patient);
        Assert.Contains("M0 ", page.Find(".wf-channel path").GetAttribute("d"), StringComparison.Ordinal);
        Assert.Empty((await Orders.GetAsync(Order))!.Readings);
        Assert.Empty(page.FindAll(".obd-offer"));

        // Nothing tells the humps apart: the person says which cylinder hump A is.
        page.Act(p => p.Find("#wf-cylinder").Change("1"));
        page.WaitForAssertion(() => Assert.Equal(6, page.FindAll(".obd-offer").Count), Patient);
        page.Act(p => p.Find("#wf-compression-4").Change(false));
        page.Act(p => p.Find(".button-big").Click());
        page.WaitForAssertion(() => Assert.Contains("5 of 6 entered", page.Markup, StringComparison.Ordinal));

        var readings = (await Orders.GetAsync(Order))!.Readings;
        Assert.Equal([1, 2, 3, 5, 6], readings.Select(r => r.Reading.At.First).Order());
        Assert.All(readings, r => Assert.Equal("cranking-current", r.Reading.Test));
    }

    [Fact]
    public async Task What_is_no_waveform_says_why_and_an_unclear_rate_is_asked()
    {
        var page = await ShowAsync("Dear sir,\nno numbers here.\n");
        page.WaitForAssertion(() => Assert.Contains("No rows of numbers", page.Find("[role=alert]").TextContent, StringComparison.Ordinal));

        var other = await ShowAsync("amps\n" + string.Concat(Enumerable.Range(0, 400).Select(i => FormattableString.Invariant($"{Math.Sin(i):0.000}\n"))));
        other.WaitForElement("#wf-rate");
        other.Act(p => p.Find("#wf-rate").Change("2000"));
        other.Act(p => p.Find(".button-main").Click());
        other.WaitForAssertion(() => Assert.Contains("2,000 samples a second", other.Markup, StringComparison.Ordinal));
    }

    [Fact]
    public async Task A_part_of_the_trace_is_shown_by_buttons_and_by_drawing_over_it()
    {
        var page = await ShowAsync("time,amps\n" + string.Concat(Enumerable.Range(0, 2000).Select(i => FormattableString.Invariant($"{i * 0.001:0.000},{Math.Sin(i / 9.0):0.000}\n"))));
        page.WaitForElement(".wf-trace");
        Assert.Contains("From 0.00 s to 2.00 s", page.Markup, StringComparison.Ordinal);

        page.Act(p => p.FindAll(".wf-buttons button")[0].Click());
        page.WaitForAssertion(() => Assert.Contains("From 500 ms to 1500 ms", page.Markup, StringComparison.Ordinal));
        await page.InvokeAsync(() => page.FindComponent<WaveformReader>().Instance.Stretch(0.25, 0.75));
        page.WaitForAssertion(() => Assert.Contains("From 750 ms to 1250 ms", page.Markup, StringComparison.Ordinal));
        Assert.Equal(12, page.FindAll(".wf-table tbody tr").Count);
    }

    [Fact]
    public async Task The_file_goes_with_the_page()
    {
        await ShowAsync("time,amps\n");
        await DisposeComponentsAsync();

        Assert.Empty(Directory.GetFiles(Path.Combine(_data, "uploads")));
    }

    private static string Cranking()
    {
        var recorded = CrankingRun.Of(CrankedEngine.Drawn(6, "one weak", 5) with { SampleRate = 10_000, CrankSeconds = 3.2 }).Recorded(30, 5);
        return WaveformText.Of(recorded with { Channels = [recorded.Channels[0]] });
    }

    private async Task<IRenderedComponent<WaveformPage>> ShowAsync(string text)
    {
        // What the browser does: it sends the file to the address that the page names, then answers that all went well.
        var module = JSInterop.SetupModule("./Components/Waveform/WaveformReader.razor.js");
        module.Mode = JSRuntimeMode.Loose;
        module.Setup<string>("send", call => Keep((string)call.Arguments[0]!, text)).SetResult("");
        var page = Render<WaveformPage>(p => p.Add(c => c.Number, Number));
        page.WaitForElement("#wf-file");
        _ = page.InvokeAsync(() => page.FindComponent<WaveformReader>().Instance.Chosen("scope.csv", text.Length));
        await Task.Yield();
        return page;
    }

    /// <summary>Away from the page's own thread, which waits here.</summary>
    private bool Keep(string address, string text) => Task.Run(async () =>
    {
        using var bytes = new MemoryStream(System.Text.Encoding.UTF8.GetBytes(text));
        return await _uploads.KeepAsync(Guid.Parse(address.Split('/')[^1]), bytes, default);
    }).GetAwaiter().GetResult();
}
