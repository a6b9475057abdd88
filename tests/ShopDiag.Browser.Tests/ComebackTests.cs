using Microsoft.Playwright;
using ShopDiag.Browser.Tests.Pages;
using ShopDiag.Browser.Tests.Running;
using static Microsoft.Playwright.Assertions;

namespace ShopDiag.Browser.Tests;

public sealed class ComebackTests(Chromium chromium)
{
    // Repaired on order 1001 of the demo shop: the coil of cylinder 3.
    private const string Plate = "QHV 4417";

    [Fact]
    public async Task A_car_that_is_back_proposes_itself_and_is_counted_once_a_person_has_said_yes()
    {
        await using var server = await ShopServer.StartAsync(demo: true);
        await using var tab = await chromium.TabletAsync(server.Url);
        var page = tab.Page;

        await tab.OpenAsync("/owner");
        await Expect(Comebacks(page)).ToHaveTextAsync("1");

        await tab.OpenAsync("/orders");
        var number = await page.NewOrderAsync();
        await page.WriteAsync("Plate", Plate);
        await page.GetByRole(AriaRole.Button, new() { Name = "Use it" }).TapAsync();
        await Expect(page.GetByRole(AriaRole.Heading, new() { Name = "Is this the same trouble again?" })).ToBeVisibleAsync();
        await page.WriteAsync("Trouble codes", "P0303");
        await Expect(page.GetByText("Code P0303 is stored again.")).ToBeVisibleAsync();

        await page.GetByRole(AriaRole.Button, new() { Name = "Same trouble again" }).TapAsync();
        await Expect(page.GetByRole(AriaRole.Heading, new() { Name = "A comeback", Exact = true })).ToBeVisibleAsync();
        await Expect(page.Locator(".cb-old")).ToContainTextAsync("Ignition coil failed");

        await tab.OpenAsync($"/orders/{number}/workup");
        await Expect(page.GetByText("The trouble of order 1001 is back: look at that work first (ignition coil, cylinder 3).")).ToBeVisibleAsync();
        await page.GetByText("The diagnosis of order 1001, of which this is a comeback").TapAsync();
        await Expect(page.Locator(".cb-beside .cb-old")).ToContainTextAsync("Ignition coil failed");

        await tab.OpenAsync("/owner");
        await Expect(Comebacks(page)).ToHaveTextAsync("2");
        await Comebacks(page).TapAsync();
        await Expect(page.GetByRole(AriaRole.Link, new() { Name = $"order {number}" })).ToBeVisibleAsync();
        await tab.OpenAsync("/orders/1001");
        await Expect(page.Locator("section[aria-labelledby=came-back]")).ToContainTextAsync($"Order {number}");
        tab.HasNothingToComplainOf();
    }

    // The figure of comebacks in the row of failed coils.
    private static ILocator Comebacks(IPage page) => page.Locator("section[aria-labelledby=ow-groups] > .ow-wide tbody tr", new() { HasText = "Ignition coil failed" }).Locator("td").Nth(1).Locator("a").First;
}
