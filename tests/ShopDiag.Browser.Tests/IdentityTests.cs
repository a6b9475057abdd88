using Microsoft.Playwright;
using ShopDiag.Browser.Tests.Pages;
using ShopDiag.Browser.Tests.Running;
using static Microsoft.Playwright.Assertions;

namespace ShopDiag.Browser.Tests;

/// <summary>A tablet that several people use: whoever typed something stays the one who typed it, and whoever is out is out.</summary>
public sealed class IdentityTests(Chromium chromium)
{
    private const int Order = DemoShop.WrittenUp;
    private const string Concern = "In the customer's words";
    private const string LenasPin = "916428";
    private const string SamsPin = "608135";

    [Fact]
    public async Task What_one_typed_while_the_line_was_cut_never_becomes_the_others_who_signed_in_meanwhile()
    {
        await using var server = await ShopServer.StartAsync(demo: true);
        using var line = new Line(server.Port);
        await using var tab = await chromium.TabletAsync(line.Url, login: null);
        await tab.Page.GotoAsync($"/orders/{Order}?part=concern");
        await tab.SignInAsync("lena", remember: true);
        await Expect(tab.Page.Field(Concern)).ToBeVisibleAsync();
        var before = await tab.Page.Field(Concern).InputValueAsync();

        line.Cut();
        await tab.Page.Field(Concern).FillAsync("Lena heard it knock");
        await Expect(tab.Page.Locator("#saving")).ToHaveAttributeAsync("data-state", "down");
        // The same tablet by another way: the cookie of the sign-in is Sam's from now on.
        await using (var other = new Tab(tab.Context, await tab.Context.NewPageAsync()) { KeepsContext = true })
        {
            await other.Page.GotoAsync($"{server.Url}/switch");
            await other.SwitchAsync("Sam", SamsPin);
            await other.IsSignedInAsync("Sam");
        }

        line.Mend();
        // Blazor would go on with Lena's page as Sam. It is opened again, without what Lena typed.
        await tab.IsSignedInAsync("Sam");
        await Expect(tab.Page.Field(Concern)).ToHaveValueAsync(before);
        await Expect(tab.Page.Locator("#saving")).ToContainTextAsync("1 entry of Lena");
        await tab.OpenAsync($"/orders/{Order}?part=history");
        await Expect(tab.Page.Locator("#body-history")).Not.ToContainTextAsync("Lena heard it knock");

        await tab.LockAsync();
        await tab.SwitchAsync("Lena", LenasPin);
        await tab.IsSignedInAsync("Lena");
        await tab.OpenAsync($"/orders/{Order}?part=concern");
        await Expect(tab.Page.Field(Concern)).ToHaveAttributeAsync("data-saved", "Lena heard it knock");
        await tab.OpenAsync($"/orders/{Order}?part=history");
        await Expect(tab.Page.Locator(".audit tr", new() { HasText = "Lena heard it knock" })).ToContainTextAsync("Lena, Tablet 1");
    }

    [Fact]
    public async Task Whoever_is_signed_out_everywhere_sees_nothing_more_on_a_page_that_is_open()
    {
        await using var server = await ShopServer.StartAsync(demo: true);
        await using var lena = await chromium.TabletAsync(server.Url, login: "lena");
        await using var owner = await chromium.TabletAsync(server.Url);
        await lena.OpenAsync("/orders");
        await lena.Page.Locator(".order-row").First.WaitForAsync();
        await owner.OpenAsync("/people");
        await owner.Page.GetByLabel("Sign out everywhere: Lena").TapAsync();
        await Expect(lena.Page.GetByRole(AriaRole.Heading, new() { Name = "Sign in" })).ToBeVisibleAsync();
        await Expect(lena.Page.Locator(".order-row")).ToHaveCountAsync(0);
    }

    [Fact]
    public async Task The_other_tabs_of_a_tablet_follow_whoever_signs_in()
    {
        await using var server = await ShopServer.StartAsync(demo: true);
        await using var tab = await chromium.TabletAsync(server.Url, login: null);
        await tab.Page.GotoAsync("/orders");
        await tab.SignInAsync("lena", remember: true);
        await using var other = new Tab(tab.Context, await tab.Context.NewPageAsync()) { KeepsContext = true };
        await other.OpenAsync("/parts");
        await tab.LockAsync();
        await tab.SwitchAsync("Sam", SamsPin);
        await tab.IsSignedInAsync("Sam");
        await other.IsSignedInAsync("Sam");
    }

    [Fact]
    public async Task A_tablet_that_nobody_touches_locks_and_opens_again_where_it_was()
    {
        await using var server = await ShopServer.StartAsync(demo: true);
        await using var tab = await chromium.TabletAsync(server.Url, login: null);
        await tab.Page.GotoAsync("/sign-in?return=/parts");
        await tab.SignInAsync("lena", remember: true);
        await tab.Page.Clock.InstallAsync();
        await tab.OpenAsync("/parts?x=1");
        await tab.Page.Clock.FastForwardAsync(9 * 60_000);
        await Expect(tab.Page.Locator(".switch")).ToHaveCountAsync(0);
        await tab.Page.Clock.FastForwardAsync(2 * 60_000);
        await Expect(tab.Page.Locator(".switch")).ToBeVisibleAsync();
        await tab.SwitchAsync("Lena", LenasPin);
        await Expect(tab.Page).ToHaveURLAsync($"{server.Url}/parts?x=1");
    }

    [Fact]
    public async Task A_technician_is_not_shown_what_only_others_may_and_gets_no_further_by_going_there()
    {
        await using var server = await ShopServer.StartAsync(demo: true);
        await using var tab = await chromium.TabletAsync(server.Url, login: "lena");
        await tab.OpenOrderAsync(DemoShop.WithFinding, "concern");
        await Expect(tab.Page.Field("Name")).ToBeVisibleAsync();
        await Expect(tab.Page.Field("Telephone")).ToHaveCountAsync(0);
        await Expect(tab.Page.GetByRole(AriaRole.Navigation)).Not.ToContainTextAsync("Settings");
        // Within the circuit, where no request asks the server.
        await tab.Page.EvaluateAsync("Blazor.navigateTo('/settings')");
        await Expect(tab.Page.GetByRole(AriaRole.Heading, new() { Name = "This page is not for everybody" })).ToBeVisibleAsync();
        await Expect(tab.Page.Field("Name of the shop")).ToHaveCountAsync(0);
    }
}
