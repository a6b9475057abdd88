using System.Text;
using Microsoft.Playwright;
using ShopDiag.Browser.Tests.Pages;
using ShopDiag.Browser.Tests.Running;
using static Microsoft.Playwright.Assertions;

namespace ShopDiag.Browser.Tests;

/// <summary>A log of OBD messages in a real browser: larger than one message to the program may be, and confirmed by hand.</summary>
public sealed class ObdTests(Chromium chromium, DemoShop shop) : IClassFixture<DemoShop>
{
    [Fact]
    public async Task A_long_log_is_read_and_what_is_confirmed_is_on_the_order()
    {
        await using var tab = await chromium.TabletAsync(shop.Url);
        var page = tab.Page;
        await tab.OpenAsync($"/orders/{DemoShop.InDiagnosis}?part=workup");
        await page.GetByText("Read OBD messages").TapAsync();
        await page.ChooseFileAsync("#obd-file", new() { Name = "car.log", MimeType = "text/plain", Buffer = Encoding.UTF8.GetBytes(Log()) });
        await Expect(page.GetByRole(AriaRole.Heading, new() { Name = "Take over" })).ToBeVisibleAsync();
        await Expect(page.Locator("#obd-codes-0")).ToBeCheckedAsync();
        await Expect(page.Locator("main")).ToContainTextAsync("P0171 (stored): Too lean, bank 1");
        Assert.Empty(await page.TooSmallAsync(48));

        await page.GetByText("Enter what is ticked").TapAsync();

        await Expect(page.Locator("main")).ToContainTextAsync("entered.");
        await page.GetByText("Back to the workup").TapAsync();
        await Expect(page.Locator("[data-cell='trouble-codes:e']")).ToContainTextAsync("P0171");
        tab.HasNothingToComplainOf();
    }

    /// <summary>Codes, then engine speed and trims for ten minutes: over 100 KB.</summary>
    private static string Log()
    {
        var log = new StringBuilder("(0.000000) can0 7DF#0103000000000000\n(0.010000) can0 7E8#0643020302017100\n(0.020000) can0 7E8#0341057B00000000\n");
        for (var i = 1; i < 600; i++)
        {
            log.Append(FormattableString.Invariant($"({i}.000000) can0 7E8#04410C0BB8000000\n({i}.010000) can0 7E8#0341068F00000000\n({i}.020000) can0 7E8#0341078500000000\n"));
        }

        return log.ToString();
    }
}
