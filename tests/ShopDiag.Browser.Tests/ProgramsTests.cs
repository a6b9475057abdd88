using System.Net;
using System.Net.Http.Headers;
using Microsoft.Playwright;
using ShopDiag.Browser.Tests.Pages;
using ShopDiag.Browser.Tests.Running;
using static Microsoft.Playwright.Assertions;

namespace ShopDiag.Browser.Tests;

/// <summary>From a touch on the owner's page to a program that is answered, and not any more.</summary>
public sealed class ProgramsTests(Chromium chromium, DemoShop shop) : IClassFixture<DemoShop>
{
    [Fact]
    public async Task A_token_is_copied_by_a_touch_works_at_once_and_is_refused_once_revoked()
    {
        await using var tab = await chromium.TabletAsync(shop.Url);
        await tab.OpenAsync("/owner/programs");
        await tab.Page.Field("Program it is for").FillAsync("Bench computer");
        await tab.Page.GetByLabel("Comebacks and other figures").CheckAsync();
        await tab.Page.GetByRole(AriaRole.Button, new() { Name = "Make a token" }).TapAsync();
        var secret = await tab.Page.Field("Token").InputValueAsync();
        Assert.Empty(await tab.Page.TooSmallAsync(48));
        await tab.Page.GetByRole(AriaRole.Button, new() { Name = "Copy" }).TapAsync();
        await Expect(tab.Page.Locator("#copied")).ToHaveTextAsync("Copied.");
        await tab.Page.Field("Program it is for").FocusAsync();
        await tab.Page.Keyboard.PressAsync("Control+V");
        await Expect(tab.Page.Field("Program it is for")).ToHaveValueAsync(secret);

        using var program = new HttpClient { BaseAddress = new Uri(shop.Url), DefaultRequestHeaders = { Authorization = new AuthenticationHeaderValue("Bearer", secret) } };
        using (var answer = await program.GetAsync(new Uri("/api/v1/comebacks", UriKind.Relative)))
        {
            Assert.Equal(HttpStatusCode.OK, answer.StatusCode);
        }

        // A reload is enough for it to be gone from the screen for good.
        await tab.OpenAsync("/owner/programs");
        await tab.Page.GetByRole(AriaRole.Button, new() { Name = "Revoke: Bench computer" }).TapAsync();
        await Expect(tab.Page.GetByText("No program is answered")).ToBeVisibleAsync();
        Assert.DoesNotContain(secret, await tab.Page.ContentAsync(), StringComparison.Ordinal);
        using var refused = await program.GetAsync(new Uri("/api/v1/comebacks", UriKind.Relative));
        Assert.Equal(HttpStatusCode.Unauthorized, refused.StatusCode);
    }
}
