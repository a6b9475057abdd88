using Microsoft.Playwright;
using ShopDiag.Browser.Tests.Pages;
using ShopDiag.Browser.Tests.Running;
using static Microsoft.Playwright.Assertions;

namespace ShopDiag.Browser.Tests;

public sealed class PortraitTests(Chromium chromium, DemoShop shop) : IClassFixture<DemoShop>
{
    [Fact]
    public async Task Nothing_sticks_out_sideways_on_a_tablet_held_upright()
    {
        await using var tab = await chromium.TabletAsync(shop.Url, 800, 1280);
        var wide = new List<string>();
        foreach (var path in new[] { "/orders", "/orders/1014?part=concern", "/orders/1011?part=finding", "/orders/1014/workup", "/orders/1009/workup", "/orders/1009/balance-run", "/orders/1009/balance-run?do=typed", "/orders/1014/waveform", "/orders/1011/estimate", "/reference", "/settings", "/find?q=coil", "/parts", "/parts?by=order", "/orders/1009?part=parts", "/shop/prices" })
        {
            await tab.OpenAsync(path);
            await Expect(tab.Page.Locator("main h1")).ToBeVisibleAsync();
            wide.AddRange((await tab.Page.TooWideAsync()).Select(w => $"{path}: {w}"));
        }

        Assert.Empty(wide);
    }

    [Fact]
    public async Task Engine_plan_and_next_step_stay_in_sight_while_the_sheet_scrolls()
    {
        await using var tab = await chromium.TabletAsync(shop.Url, 800, 1280);
        var page = tab.Page;
        await tab.OpenWorkupAsync(DemoShop.InDiagnosis);
        var last = page.Locator("[data-sheet] [data-cell]").Last;
        await last.ScrollIntoViewIfNeededAsync();
        await Expect(last).ToBeInViewportAsync();
        Assert.True(await page.EvaluateAsync<int>("() => Math.round(scrollY)") > 300, "The sheet did not scroll.");
        await Expect(page.Locator(".wk-plan .engine-plan")).ToBeInViewportAsync(new() { Ratio = 1 });
        await Expect(page.Locator("#wk-next-title")).ToBeInViewportAsync(new() { Ratio = 1 });
    }

    [Fact]
    public async Task The_open_entry_hides_neither_its_cell_nor_the_engine_plan()
    {
        await using var tab = await chromium.TabletAsync(shop.Url, 800, 1280);
        var page = tab.Page;
        await tab.OpenWorkupAsync(DemoShop.InDiagnosis);
        await page.OpenCellAsync("leak-down:c5");
        await Expect(page.Entry()).ToBeInViewportAsync();
        await Expect(page.Locator(".wk-plan .engine-plan")).ToBeInViewportAsync(new() { Ratio = 1 });
        // What lies on top at the middle of the cell is the cell.
        await page.WaitForFunctionAsync("""
            () => {
              const cell = document.querySelector('[data-cell="leak-down:c5"]'), box = cell.getBoundingClientRect();
              return cell.contains(document.elementFromPoint(box.x + box.width / 2, box.y + box.height / 2));
            }
            """);
    }

    [Fact]
    public async Task The_step_that_is_started_has_its_cell_in_sight_below_what_was_saved_before()
    {
        await using var tab = await chromium.TabletAsync(shop.Url, 1024, 768);
        var page = tab.Page;
        await tab.OpenWorkupAsync(DemoShop.InDiagnosis);
        await page.OpenCellAsync("coil-feed:c4");
        await page.TypeAsync("12.4\n");
        await Expect(page.Locator(".wk-saved")).ToContainTextAsync("Saved");
        await page.Entry().GetByRole(AriaRole.Button, new() { Name = "Close", Exact = true }).TapAsync();
        await page.EvaluateAsync("() => scrollTo(0, 0)");
        await page.GetByRole(AriaRole.Button, new() { Name = "Start", Exact = true }).TapAsync();
        await Expect(page.Entry()).ToBeInViewportAsync();
        // Not under what stays at the bottom, nor above the screen.
        await page.WaitForFunctionAsync("""
            () => {
              const cell = document.querySelector('[data-cell].wk-selected')?.getBoundingClientRect();
              return cell && cell.bottom <= document.querySelector('.wk-dock').getBoundingClientRect().top && cell.top >= 0;
            }
            """);
    }
}
