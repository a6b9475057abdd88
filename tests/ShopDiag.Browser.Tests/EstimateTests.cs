using Microsoft.Playwright;
using ShopDiag.Browser.Tests.Pages;
using ShopDiag.Browser.Tests.Running;
using static Microsoft.Playwright.Assertions;

namespace ShopDiag.Browser.Tests;

/// <summary>From a finding over an estimate and a signed yes to parts that are wanted, in a real browser.</summary>
public sealed class EstimateTests(Chromium chromium, DemoShop shop) : IClassFixture<DemoShop>
{
    [Fact]
    public async Task A_price_is_entered_some_lines_are_signed_for_and_only_their_parts_are_wanted()
    {
        await using var tab = await chromium.TabletAsync(shop.Url);
        var page = tab.Page;
        await tab.OpenAsync($"/orders/{DemoShop.WithFinding}/estimate");
        await Expect(page.GetByRole(AriaRole.Heading, new() { Name = "Needed now", Exact = true })).ToBeVisibleAsync();

        await page.AddPartAsync("Air filter", "18.40");
        await page.ChooseAsync("When", "Advised", "Advised");
        await Expect(page.Locator("section[aria-labelledby='est-Advised']")).ToContainTextAsync("Air filter");
        await page.PriceAllAsync();

        await page.SignAsync("Ida Holm", refused: "Air filter");
        await Expect(page.GetByRole(AriaRole.Heading, new() { Name = "Answers so far" })).ToBeVisibleAsync();
        await Expect(page.Locator("main")).ToContainTextAsync("No: Air filter");
        await Expect(page.GetByRole(AriaRole.Img, new() { Name = "Signature of Ida Holm" })).ToBeVisibleAsync();
        Assert.Empty(await page.TooSmallAsync(48));

        // It is on the order, on another tablet and after a reload, and stands on the paper.
        await tab.OpenAsync($"/orders/{DemoShop.WithFinding}?part=estimate");
        await Expect(page.Locator("main")).ToContainTextAsync("approved");
        var paper = await tab.Context.APIRequest.GetAsync($"/orders/{DemoShop.WithFinding}/customer.pdf");
        var words = PaperText.Of(await paper.BodyAsync());
        Assert.Contains("Air filter", words, StringComparison.Ordinal);
        Assert.Contains("Ida Holm", words, StringComparison.Ordinal);
        tab.HasNothingToComplainOf();
    }

    [Fact]
    public async Task What_cannot_be_a_price_is_said_beside_the_field_and_stays_in_it()
    {
        await using var tab = await chromium.TabletAsync(shop.Url);
        var page = tab.Page;
        await tab.OpenAsync("/orders/1012/estimate");
        await page.GetByRole(AriaRole.Button, new() { Name = "Add a fee" }).TapAsync();
        await page.Field("Price of one").FillAsync("12,50");
        await Expect(page.GetByRole(AriaRole.Alert).First).ToContainTextAsync("Write it with a point");
        await Expect(page.Field("Price of one")).ToHaveValueAsync("12,50");
    }

    [Fact]
    public async Task A_line_taken_off_can_be_put_back()
    {
        await using var tab = await chromium.TabletAsync(shop.Url);
        var page = tab.Page;
        await tab.OpenAsync("/orders/1013/estimate");
        await page.AddPartAsync("Hose clamp", "2.10");
        await page.GetByRole(AriaRole.Button, new() { Name = "Take this line off" }).TapAsync();
        await Expect(page.GetByText("“Hose clamp” was taken off.")).ToBeVisibleAsync();
        await page.GetByRole(AriaRole.Button, new() { Name = "Put it back" }).First.TapAsync();
        await Expect(page.Locator(".est-line", new() { HasText = "Hose clamp" })).ToBeVisibleAsync();
    }
}
