using System.Text;
using Microsoft.Playwright;
using ShopDiag.Browser.Tests.Pages;
using ShopDiag.Browser.Tests.Running;
using ShopDiag.Signals.Measured.Cranking;
using ShopDiag.Signals.Measured.Engines;
using static Microsoft.Playwright.Assertions;

namespace ShopDiag.Browser.Tests;

/// <summary>An oscilloscope's file in a real browser: sent by HTTP, recognised, drawn, zoomed with a finger, and entered by hand.</summary>
public sealed class WaveformTests(Chromium chromium, DemoShop shop) : IClassFixture<DemoShop>
{
    /// <summary>The file is sent, read and fitted on a slow machine, milliseconds.</summary>
    private const float Patience = 240_000;

    [Fact]
    public async Task A_cranking_is_sent_drawn_and_what_is_confirmed_is_on_the_sheet()
    {
        await using var tab = await chromium.TabletAsync(shop.Url, 1024, 768);
        var page = tab.Page;
        await tab.OpenAsync($"/orders/{DemoShop.InDiagnosis}?part=workup");
        await page.GetByText("Read a waveform").TapAsync();
        await page.ChooseFileAsync("#wf-file", new() { Name = "cranking.csv", MimeType = "text/csv", Buffer = Encoding.UTF8.GetBytes(Cranking(cylinders: 5)) });
        await Expect(page.GetByText("Taken for cranking current")).ToBeVisibleAsync(new() { Timeout = Patience });
        await Expect(page.Locator(".wf-channel path")).ToHaveCountAsync(1);
        Assert.Empty(await page.TooSmallAsync(48));
        Assert.Empty(await page.TooWideAsync());

        // Nothing moves on the page any more: a finger draws where the trace is.
        await Expect(page.GetByRole(AriaRole.Heading, new() { Name = "Found" })).ToBeVisibleAsync(new() { Timeout = Patience });
        var whole = await page.Locator(".wf-axis").InnerTextAsync();
        await DrawOverAsync(page);
        await Expect(page.Locator(".wf-axis")).Not.ToHaveTextAsync(whole);
        await page.GetByRole(AriaRole.Button, new() { Name = "Whole" }).TapAsync();

        await page.Locator("#wf-cylinder").SelectOptionAsync("1");
        await Expect(page.Locator("#wf-compression-1")).ToBeCheckedAsync(new() { Timeout = Patience });
        await page.Locator("#wf-compression-2").UncheckAsync();
        await page.GetByText("Enter what is ticked").TapAsync();
        await Expect(page.Locator("#wf-take ~ .row [role=status]")).ToContainTextAsync("entered.");
        await page.GetByText("Back to the workup").TapAsync();
        await Expect(page.Locator("[data-cell='cranking-current:c1']")).ToContainTextAsync("%");
        await Expect(page.Locator("[data-cell='cranking-current:c2']")).Not.ToContainTextAsync("%");
        tab.HasNothingToComplainOf();
    }

    [Fact]
    public async Task A_cranking_of_another_number_of_cylinders_than_the_orders_engine_has_is_not_ticked_and_the_page_asks_about_it()
    {
        await using var tab = await chromium.TabletAsync(shop.Url, 768, 1024);
        var page = tab.Page;
        await tab.OpenAsync($"/orders/{DemoShop.InDiagnosis}/waveform");
        await page.ChooseFileAsync("#wf-file", new() { Name = "other-car.csv", MimeType = "text/csv", Buffer = Encoding.UTF8.GetBytes(Cranking(cylinders: 6)) });
        await Expect(page.GetByText("another number of cylinders").First).ToBeVisibleAsync(new() { Timeout = Patience });
        await page.Locator("#wf-cylinder").SelectOptionAsync("1");
        await Expect(page.Locator("#wf-compression-1")).Not.ToBeCheckedAsync();
        tab.HasNothingToComplainOf();
    }

    [Fact]
    public async Task A_file_that_is_dropped_on_the_page_is_read_like_a_chosen_one()
    {
        await using var tab = await chromium.TabletAsync(shop.Url, 800, 1280);
        var page = tab.Page;
        await tab.OpenAsync($"/orders/{DemoShop.InDiagnosis}/waveform");
        await Expect(page.Locator("#wf-file")).ToBeEnabledAsync();
        var dropped = await page.EvaluateHandleAsync(
            """
            () => {
              const held = new DataTransfer(), rows = Array.from({ length: 400 }, (_, i) => `${i / 1000},${(10 * Math.sin(i / 8)).toFixed(3)}`);
              held.items.add(new File([`time (s),sensor (V)\n${rows.join('\n')}\n`], 'dropped.csv', { type: 'text/csv' }));
              return held;
            }
            """);
        await page.Locator("[data-wf-drop]").DispatchEventAsync("drop", new { dataTransfer = dropped });

        await Expect(page.GetByText("dropped.csv: 400 rows")).ToBeVisibleAsync(new() { Timeout = Patience });
        await Expect(page.Locator(".wf-channel path")).ToHaveCountAsync(1);
        tab.HasNothingToComplainOf();
    }

    private static async Task DrawOverAsync(IPage page)
    {
        await page.Locator(".wf-trace").ScrollIntoViewIfNeededAsync();
        var box = (await page.Locator(".wf-channel").First.BoundingBoxAsync())!;
        await page.Mouse.MoveAsync(box.X + (0.3f * box.Width), box.Y + (box.Height / 2));
        await page.Mouse.DownAsync();
        await page.Mouse.MoveAsync(box.X + (0.6f * box.Width), box.Y + (box.Height / 2), new() { Steps = 4 });
        await page.Mouse.UpAsync();
    }

    /// <summary>The starter's current, one cylinder weak.</summary>
    private static string Cranking(int cylinders)
    {
        var recorded = CrankingRun.Of(CrankedEngine.Drawn(cylinders, "one weak", 5) with { SampleRate = 10_000, CrankSeconds = 3.2 }).Recorded(30, 5);
        return WaveformText.Of(recorded with { Channels = [recorded.Channels[0]] });
    }
}
