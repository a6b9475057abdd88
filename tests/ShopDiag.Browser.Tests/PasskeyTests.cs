using System.Text.Json;
using Microsoft.Playwright;
using ShopDiag.Browser.Tests.Pages;
using ShopDiag.Browser.Tests.Running;
using static Microsoft.Playwright.Assertions;

namespace ShopDiag.Browser.Tests;

/// <summary>Signing in with a passkey. The device is Chromium's own virtual one (Chrome DevTools Protocol, domain WebAuthn; automated testing as in section 11 of W3C Web Authentication Level 3): another make than what checks it.</summary>
public sealed class PasskeyTests(Chromium chromium)
{
    [Fact]
    public async Task A_passkey_signs_in_with_the_rights_of_the_password_until_it_is_removed()
    {
        await using var server = await ShopServer.StartAsync(demo: true);
        // By its name: an address of digits has no passkeys.
        await using var tab = await chromium.TabletAsync($"http://localhost:{server.Port}", login: null);
        var page = tab.Page;
        await PlugInAsync(page);
        await page.GotoAsync("/sign-in");
        await tab.SignInAsync("nora", remember: false);
        await page.GotoAsync("/me");
        await page.GetByLabel("Name of the device").FillAsync("Nora's phone");
        await page.GetByRole(AriaRole.Button, new() { Name = "Add a passkey on this device" }).TapAsync();
        await Expect(page.GetByText("The passkey is added.")).ToBeVisibleAsync();
        await Expect(page.GetByRole(AriaRole.Button, new() { Name = "Remove: Nora's phone" })).ToBeVisibleAsync();

        await tab.Context.ClearCookiesAsync();
        await page.GotoAsync("/sign-in?return=/people");
        await page.GetByRole(AriaRole.Button, new() { Name = "With a passkey instead" }).TapAsync();
        // People ask for the password: a PIN would not be enough there.
        await Expect(page.GetByRole(AriaRole.Heading, new() { Name = "People", Exact = true })).ToBeVisibleAsync();
        await page.GotoAsync("/me");
        await Expect(page.Locator("form", new() { HasText = "Nora's phone" })).ToContainTextAsync("last used");
        await page.GetByRole(AriaRole.Button, new() { Name = "Remove: Nora's phone" }).TapAsync();
        await Expect(page.GetByText("The passkey is removed.")).ToBeVisibleAsync();

        await tab.Context.ClearCookiesAsync();
        await page.GotoAsync("/sign-in");
        await page.GetByRole(AriaRole.Button, new() { Name = "With a passkey instead" }).TapAsync();
        await Expect(page.Locator("[data-passkey-said]")).ToHaveTextAsync("This passkey is not known here any more. Sign in with your password.");
    }

    [Fact]
    public async Task What_is_no_passkey_is_refused_in_words_and_nobody_is_signed_in()
    {
        await using var server = await ShopServer.StartAsync(demo: true);
        using var client = new HttpClient { BaseAddress = new Uri(server.Url) };
        foreach (var answer in new[] { "{}", "[]", "{\"credential\":{}}", "{\"credential\":{\"id\":\"x\",\"rawId\":\"x\",\"type\":\"public-key\",\"response\":{}}}" })
        {
            using var content = new StringContent(answer, System.Text.Encoding.UTF8, "application/json");
            using var refused = await client.PostAsync(new Uri("/passkeys/sign-in", UriKind.Relative), content);
            Assert.Equal(System.Net.HttpStatusCode.BadRequest, refused.StatusCode);
            Assert.NotEmpty(JsonSerializer.Deserialize<string>(await refused.Content.ReadAsStringAsync())!);
            Assert.DoesNotContain(refused.Headers.TryGetValues("Set-Cookie", out var cookies) ? cookies : [], c => c.StartsWith("shopdiag.session=", StringComparison.Ordinal));
        }
    }

    [Fact]
    public async Task Where_the_shop_is_reached_by_a_number_no_passkey_is_offered_and_the_page_says_why()
    {
        await using var server = await ShopServer.StartAsync(demo: true);
        await using var tab = await chromium.TabletAsync(server.Url);
        await tab.Page.GotoAsync("/me");
        await Expect(tab.Page.GetByText("Browsers have passkeys only where the shop is reached by a name")).ToBeVisibleAsync();
        await Expect(tab.Page.GetByRole(AriaRole.Button, new() { Name = "Add a passkey on this device" })).ToBeHiddenAsync();
    }

    private static async Task PlugInAsync(IPage page)
    {
        var device = await page.Context.NewCDPSessionAsync(page);
        await device.SendAsync("WebAuthn.enable");
        await device.SendAsync("WebAuthn.addVirtualAuthenticator", new()
        {
            ["options"] = new Dictionary<string, object>
            {
                ["protocol"] = "ctap2", ["transport"] = "internal", ["hasResidentKey"] = true, ["hasUserVerification"] = true, ["isUserVerified"] = true, ["automaticPresenceSimulation"] = true,
            },
        });
    }
}
