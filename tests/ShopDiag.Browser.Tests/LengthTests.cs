using ShopDiag.Browser.Tests.Pages;
using ShopDiag.Browser.Tests.Running;
using static Microsoft.Playwright.Assertions;

namespace ShopDiag.Browser.Tests;

/// <summary>Texts longer than their field: nothing is cut without a word.</summary>
public sealed class LengthTests(Chromium chromium, DemoShop shop) : IClassFixture<DemoShop>
{
    [Fact]
    public async Task A_field_that_takes_no_more_says_how_much_it_did_not_take()
    {
        await using var tab = await chromium.TabletAsync(shop.Url);
        await tab.OpenOrderAsync(DemoShop.WithFinding, "progress");
        var field = tab.Page.Locator("#next-reason");
        await field.FocusAsync();
        await tab.Page.Keyboard.InsertTextAsync(new string('a', 350));
        await Expect(tab.Page.Locator("#next-reason + .field-message")).ToHaveTextAsync("At most 300 letters fit here. The last 50 were not taken.");
        await Expect(field).ToHaveValueAsync(new string('a', 300));
        await tab.Page.Keyboard.PressAsync("Backspace");
        await Expect(tab.Page.Locator("#next-reason + .field-message")).ToHaveCountAsync(0);
    }

    [Fact]
    public async Task A_year_with_a_digit_too_many_stays_as_typed_and_is_refused_beside_its_field()
    {
        await using var tab = await chromium.TabletAsync(shop.Url);
        await tab.OpenOrderAsync(DemoShop.InDiagnosis, "concern");
        var year = tab.Page.GetByLabel("Model year");
        var before = await year.InputValueAsync();
        await year.FocusAsync();
        await year.SelectTextAsync();
        await tab.Page.Keyboard.TypeAsync("20166");
        await Expect(tab.Page.Locator(".field-message")).ToContainTextAsync("“20166” cannot be kept here. A whole number from 1950 to 2100");
        await Expect(year).ToHaveValueAsync("20166");
        await year.FillAsync(before);
        await Expect(tab.Page.Locator(".field-message")).ToHaveCountAsync(0);
    }
}
