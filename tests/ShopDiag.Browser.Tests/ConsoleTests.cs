using Microsoft.Playwright;
using ShopDiag.Browser.Tests.Pages;
using ShopDiag.Browser.Tests.Running;
using static Microsoft.Playwright.Assertions;

namespace ShopDiag.Browser.Tests;

public sealed class ConsoleTests(Chromium chromium, DemoShop shop) : IClassFixture<DemoShop>
{
    [Fact]
    public async Task No_page_complains_on_the_console()
    {
        await using var tab = await chromium.TabletAsync(shop.Url);
        foreach (var path in new[] { "/", "/orders", "/orders/1014?part=concern", "/orders/1011?part=finding", "/orders/9999", "/reference", "/settings", "/find?q=coil", "/parts", "/shop/prices", "/owner/backups", "/owner/customers", "/owner/running" })
        {
            await tab.OpenAsync(path);
            await Expect(tab.Page.Locator("main h1")).ToBeVisibleAsync();
        }

        await tab.OpenWorkupAsync(DemoShop.InDiagnosis);
        await tab.Page.OpenCellAsync("compression-dry:c1");
        tab.HasNothingToComplainOf();
    }

    [Fact]
    public async Task Going_from_page_to_page_within_the_program_complains_of_nothing()
    {
        await using var tab = await chromium.TabletAsync(shop.Url);
        var page = tab.Page;
        await tab.OpenAsync("/orders");
        await page.Locator($"a.order-row[href=\"{Places.Order(DemoShop.InDiagnosis)}\"]").TapAsync();
        await page.GetByText("Open the workup").TapAsync();
        await page.SheetIsThereAsync();
        await page.GetByRole(AriaRole.Link, new() { Name = "Reference" }).TapAsync();
        // The page that is left has a heading too, and what is typed into it goes with it.
        await Expect(page.Locator("main h1")).ToHaveTextAsync("Tests, causes and rules");
        await page.Locator("#find").FillAsync("P0302");
        await page.Locator("#find").PressAsync("Enter");
        await Expect(page.GetByRole(AriaRole.Heading, new() { Level = 1 })).ToContainTextAsync("P0302");
        await page.GoBackAsync();
        await page.GoBackAsync();
        await page.SheetIsThereAsync();
        await page.OpenCellAsync("coil-feed:c1");
        tab.HasNothingToComplainOf();
    }
}
