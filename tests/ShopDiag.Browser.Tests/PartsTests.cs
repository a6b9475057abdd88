using System.Text;
using Microsoft.Playwright;
using ShopDiag.Browser.Tests.Pages;
using ShopDiag.Browser.Tests.Running;
using static Microsoft.Playwright.Assertions;

namespace ShopDiag.Browser.Tests;

/// <summary>What the parts counter does: parts from wanted to the car, and the shop's own prices. Each test has parts of its own, or leaves them as they were.</summary>
public sealed class PartsTests(Chromium chromium, DemoShop shop) : IClassFixture<DemoShop>
{
    [Fact]
    public async Task A_part_is_ordered_and_received_and_the_order_on_another_tablet_knows()
    {
        await using var counter = await chromium.TabletAsync(shop.Url, 1024, 768);
        await using var bench = await chromium.TabletAsync(shop.Url, 768, 1024);
        await counter.OpenAsync("/parts");
        await bench.OpenOrderAsync(1009, "parts");
        await Expect(bench.Page.Locator("#part-parts")).ToContainTextAsync("4 parts: 3 ordered, 1 wanted");

        await ButtonAsync(counter.Page, "Ordered: 1 × Head bolt set");
        await Expect(bench.Page.Locator("#part-parts")).ToContainTextAsync("4 parts, all ordered");
        await ButtonAsync(counter.Page, "Received: 1 × Head bolt set");
        await Expect(bench.Page.Locator("#part-parts")).ToContainTextAsync("4 parts: 1 here, 3 ordered");
        await ButtonAsync(counter.Page, "Undo: 1 × Head bolt set");
        await Expect(bench.Page.Locator("#part-parts")).ToContainTextAsync("4 parts, all ordered");
        counter.HasNothingToComplainOf();
        bench.HasNothingToComplainOf();
    }

    [Fact]
    public async Task One_of_two_comes_and_undo_makes_them_one_again()
    {
        await using var tab = await chromium.TabletAsync(shop.Url, 768, 1024);
        var page = tab.Page;
        await tab.OpenAsync("/parts");
        await ButtonAsync(page, "Some of them: 2 × Exhaust valve");
        Assert.Empty(await page.TooSmallAsync(56));
        await page.GetByRole(AriaRole.Button, new() { Name = "1 received", Exact = true }).TapAsync();
        var valves = page.Locator(".pt-row", new() { HasText = "Exhaust valve" });
        await Expect(valves).ToHaveCountAsync(2);
        await Expect(valves.First).ToHaveAttributeAsync("data-state", "Received");
        await Expect(valves.Last).ToHaveAttributeAsync("data-state", "Ordered");
        await ButtonAsync(page, "Undo: 1 × Exhaust valve");
        await Expect(valves).ToHaveCountAsync(1);
        await Expect(valves).ToContainTextAsync("2 × Exhaust valve");
        tab.HasNothingToComplainOf();
    }

    [Fact]
    public async Task A_vendor_that_is_typed_saves_itself_and_the_row_stays_under_the_finger()
    {
        await using var tab = await chromium.TabletAsync(shop.Url, 1024, 768);
        var page = tab.Page;
        await tab.OpenAsync("/parts");
        await ButtonAsync(page, "Details: 1 × Fuse, terminal or wire");
        await page.WriteAsync("Vendor", "Wharf Street Electric");
        await page.WriteAsync("Expected on", "2027-03-05");
        await Expect(page.GetByRole(AriaRole.Region, new() { Name = "Slipway Motor Factors" }).First).ToContainTextAsync("Wharf Street Electric");
        Assert.Empty(await page.TooSmallAsync(56));
        await page.GetByRole(AriaRole.Button, new() { Name = "Sort again" }).TapAsync();
        await Expect(page.GetByRole(AriaRole.Region, new() { Name = "Wharf Street Electric" })).ToContainTextAsync("Fuse, terminal or wire");
    }

    [Fact]
    public async Task A_file_with_a_bad_row_says_which_and_takes_the_rest()
    {
        await using var tab = await chromium.TabletAsync(shop.Url, 768, 1024);
        var page = tab.Page;
        await tab.OpenAsync("/shop/prices");
        var file = "kind,name,price\npart,Brass whistle,12.50\ngift,Cake,3\n" + string.Concat(Enumerable.Range(0, 600).Select(i => $"part,Dear thing {i},dear\n"));
        await page.Locator("#price-file").SetInputFilesAsync(new FilePayload { Name = "prices.csv", MimeType = "text/csv", Buffer = Encoding.UTF8.GetBytes(file) });
        await page.GetByRole(AriaRole.Button, new() { Name = "Read it in" }).TapAsync();
        var answer = page.Locator("#price-answer");
        await Expect(answer).ToContainTextAsync("1 entry went in, new.");
        await Expect(answer).ToContainTextAsync("line 3: “gift” is no kind: part, labour or fee.");
        await Expect(answer).ToContainTextAsync("And 101 more.");
        await page.Locator("#price-search").FillAsync("brass");
        await Expect(page.Locator(".pr-row")).ToHaveCountAsync(1);
        await Expect(page.Locator(".pr-row")).ToContainTextAsync("Brass whistle");
        Assert.Empty(await page.TooSmallAsync(48));
        tab.HasNothingToComplainOf();
    }

    [Fact]
    public async Task An_entry_that_is_being_written_outlives_a_reload()
    {
        await using var tab = await chromium.TabletAsync(shop.Url, 1024, 768);
        var page = tab.Page;
        await tab.OpenAsync("/shop/prices");
        await page.GetByRole(AriaRole.Button, new() { Name = "New entry" }).TapAsync();
        await page.Locator("#price-name").FillAsync("Tin whistle");
        await page.ReloadAsync();
        await Expect(page.Locator("#price-name")).ToHaveValueAsync("Tin whistle");
        await page.Locator("#price-price").FillAsync("3.20");
        await page.GetByRole(AriaRole.Button, new() { Name = "Put it on the list" }).TapAsync();
        await Expect(page.GetByRole(AriaRole.Button, new() { Name = "Undo: Tin whistle" })).ToBeVisibleAsync();
        await page.ReloadAsync();
        await Expect(page.Locator(".pr-row").First).ToBeVisibleAsync();
        await Expect(page.Locator("#price-name")).ToHaveCountAsync(0);
    }

    private static Task ButtonAsync(IPage page, string name) => page.GetByRole(AriaRole.Button, new() { NameRegex = new("^" + System.Text.RegularExpressions.Regex.Escape(name)) }).TapAsync();
}
