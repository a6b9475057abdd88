using Microsoft.Playwright;
using ShopDiag.Browser.Tests.Pages;
using ShopDiag.Browser.Tests.Running;
using static Microsoft.Playwright.Assertions;

namespace ShopDiag.Browser.Tests;

/// <summary>The ways in which a workshop's day goes wrong, beside those of <see cref="NothingLostTests"/>: in each, what was typed is in the database afterwards, once.</summary>
public sealed class FailureTests(Chromium chromium)
{
    private const int Order = DemoShop.WrittenUp;
    private const string Concern = "In the customer's words";

    [Fact]
    public async Task Wi_Fi_that_dies_silently_is_noticed_and_what_was_typed_into_it_is_saved()
    {
        await using var server = await ShopServer.StartAsync(demo: true);
        using var line = new Line(server.Port);
        await using var tab = await chromium.TabletAsync(line.Url);
        await tab.OpenOrderAsync(Order, "concern");
        line.Silence();
        await tab.Page.Field(Concern).FillAsync("Typed into nothing");
        await Expect(tab.Page.Locator("#saving")).ToHaveAttributeAsync("data-state", "down");
        await tab.Page.Field(Concern).PressSequentiallyAsync(", and on");
        line.Mend();
        await Expect(tab.Page.Field(Concern)).ToHaveAttributeAsync("data-saved", "Typed into nothing, and on");
    }

    [Fact]
    public async Task A_page_whose_circuit_has_expired_begins_again_with_what_was_typed()
    {
        await using var server = await ShopServer.StartAsync(demo: true, settings: ("Circuit__DisconnectedCircuitRetentionPeriod", "00:00:01"));
        using var line = new Line(server.Port);
        await using var tab = await chromium.TabletAsync(line.Url);
        await tab.OpenOrderAsync(Order, "concern");
        line.Cut();
        await tab.Page.Field(Concern).FillAsync("The tablet lay on the shelf");
        await Task.Delay(TimeSpan.FromSeconds(4));
        line.Mend();
        await Expect(tab.Page.Field(Concern)).ToHaveAttributeAsync("data-saved", "The tablet lay on the shelf");
        await Expect(tab.Page.Field(Concern)).ToHaveValueAsync("The tablet lay on the shelf");
    }

    [Fact]
    public async Task A_name_typed_while_the_server_was_stopped_is_saved_after_it_starts_and_was_never_in_the_clear_on_the_tablet()
    {
        await using var server = await ShopServer.StartAsync(demo: true);
        await using var tab = await chromium.TabletAsync(server.Url);
        await tab.OpenOrderAsync(Order, "concern");
        await server.StopAsync();
        await tab.Page.Field("Name").FillAsync("Maud Fenwick");
        await tab.Page.WaitForFunctionAsync("() => Object.keys(localStorage).some(k => k.startsWith('sd:sealed:'))");
        Assert.DoesNotContain("Fenwick", await tab.Page.EvaluateAsync<string>("() => JSON.stringify(localStorage)"), StringComparison.Ordinal);
        // The page itself goes too: what it had in its memory is gone.
        await tab.Page.CloseAsync();
        await server.StartAgainAsync();
        var page = await tab.Context.NewPageAsync();
        await page.GotoAsync("/orders/1016?part=concern");
        await Expect(page.Field("Name")).ToHaveAttributeAsync("data-saved", "Maud Fenwick");
        await page.WaitForFunctionAsync("() => !Object.keys(localStorage).some(k => k.startsWith('sd:sealed:'))");
    }

    [Fact]
    public async Task A_name_typed_offline_is_saved_also_when_another_page_is_opened_first()
    {
        await using var server = await ShopServer.StartAsync(demo: true);
        using var line = new Line(server.Port);
        await using var tab = await chromium.TabletAsync(line.Url);
        await tab.OpenOrderAsync(Order, "concern");
        line.Cut();
        await tab.Page.Field("Telephone").FillAsync("555-0199");
        await tab.Page.WaitForFunctionAsync("() => Object.keys(localStorage).some(k => k.startsWith('sd:sealed:'))");
        await tab.Page.CloseAsync();
        line.Mend();
        var page = await tab.Context.NewPageAsync();
        await page.GotoAsync("/orders");
        // Not at once: a young entry may belong to a page that is still typing.
        await page.WaitForFunctionAsync("() => !Object.keys(localStorage).some(k => k.startsWith('sd:sealed:'))");
        await using var other = await chromium.TabletAsync(server.Url);
        await other.OpenOrderAsync(Order, "concern");
        await Expect(other.Page.Field("Telephone")).ToHaveValueAsync("555-0199");
    }

    // The browser writes localStorage down only after seconds, or up to a minute: the kill must come before that.
    private const string OnTheDisk = "async () => (await durable.all()).some(([, entry]) => entry.v === 'Typed, and then the battery was empty')";

    [Fact]
    public async Task A_browser_that_is_killed_has_what_was_typed_when_it_is_started_again()
    {
        await using var server = await ShopServer.StartAsync(demo: true);
        var profile = Directory.CreateTempSubdirectory("shopdiag-profile-").FullName;
        using var playwright = await Playwright.CreateAsync();
        var first = await playwright.Chromium.LaunchPersistentContextAsync(profile, new() { ExecutablePath = Chromium.Executable, Args = Chromium.Arguments, BaseURL = server.Url });
        first.SetDefaultTimeout(Chromium.Patience);
        await SignedIn.AddAsync(first, server.Url, SignedIn.Owner);
        var page = first.Pages[0];
        await page.GotoAsync("/orders/1016?part=concern");
        await Expect(page.Locator("main[data-interactive]")).ToBeAttachedAsync();
        await server.KillAsync();
        await page.Field(Concern).FillAsync("Typed, and then the battery was empty");
        await page.WaitForFunctionAsync(OnTheDisk);
        KillBrowserOf(profile);

        await server.StartAgainAsync();
        await using var again = await playwright.Chromium.LaunchPersistentContextAsync(profile, new() { ExecutablePath = Chromium.Executable, Args = Chromium.Arguments, BaseURL = server.Url });
        again.SetDefaultTimeout(Chromium.Patience);
        await SignedIn.AddAsync(again, server.Url, SignedIn.Owner);
        await again.Pages[0].GotoAsync("/orders/1016?part=concern");
        await Expect(again.Pages[0].Field(Concern)).ToHaveAttributeAsync("data-saved", "Typed, and then the battery was empty");
        await again.CloseAsync();
        Directory.Delete(profile, recursive: true);
    }

    [Fact]
    public async Task What_the_browsers_quick_storage_lost_comes_back_from_the_disk()
    {
        await using var server = await ShopServer.StartAsync(demo: true);
        using var line = new Line(server.Port);
        await using var tab = await chromium.TabletAsync(line.Url);
        await tab.OpenOrderAsync(Order, "concern");
        var number = await tab.Page.EvaluateAsync<string>("localStorage.getItem('sd:n') ?? '0'");
        line.Cut();
        await tab.Page.Field(Concern).FillAsync("Typed, and then the battery was empty");
        await tab.Page.Field("Telephone").FillAsync("555-0131");
        await tab.Page.WaitForFunctionAsync("async () => (await durable.all()).length === 2");
        await tab.Page.CloseAsync();
        line.Mend();
        // A page without scripts of ours sets the storage back to what a killed browser has: what it was before.
        var page = await tab.Context.NewPageAsync();
        await page.GotoAsync("/health/live");
        await page.EvaluateAsync("n => { localStorage.clear(); localStorage.setItem('sd:n', n); }", number);
        await page.GotoAsync($"/orders/{Order}?part=concern");
        await Expect(page.Field(Concern)).ToHaveAttributeAsync("data-saved", "Typed, and then the battery was empty");
        await Expect(page.Field("Telephone")).ToHaveAttributeAsync("data-saved", "555-0131");
        // And goes from there when the server has it.
        await page.WaitForFunctionAsync("async () => (await durable.all()).length === 0");
    }

    [Fact]
    public async Task A_tablet_whose_clock_is_wrong_and_then_set_right_loses_nothing()
    {
        await using var server = await ShopServer.StartAsync(demo: true);
        using var line = new Line(server.Port);
        await using var tab = await chromium.TabletAsync(line.Url);
        await tab.Page.Clock.InstallAsync(new() { TimeDate = new DateTime(2040, 1, 1, 0, 0, 0, DateTimeKind.Utc) });
        await tab.OpenOrderAsync(Order, "concern");
        line.Cut();
        await tab.Page.Field(Concern).FillAsync("Written in 2040");
        await tab.Page.CloseAsync();
        line.Mend();
        var page = await tab.Context.NewPageAsync();
        await page.Clock.SetSystemTimeAsync(DateTime.UtcNow);
        await page.GotoAsync("/orders");
        await using var other = await chromium.TabletAsync(server.Url);
        await page.WaitForFunctionAsync("() => !Object.keys(localStorage).some(k => k.startsWith('sd:draft:'))");
        await other.OpenOrderAsync(Order, "concern");
        await Expect(other.Page.Field(Concern)).ToHaveValueAsync("Written in 2040");
    }

    [Fact]
    public async Task A_backup_put_back_begins_every_page_again()
    {
        await using var server = await ShopServer.StartAsync(demo: true);
        await using var owner = await chromium.TabletAsync(server.Url);
        await using var bench = await chromium.TabletAsync(server.Url);
        await owner.OpenAsync("/owner/backups");
        await owner.Page.GetByRole(AriaRole.Button, new() { Name = "Back up now" }).TapAsync();
        await Expect(owner.Page.Locator("#bk-outcome")).ToContainTextAsync("made and checked");
        await bench.OpenOrderAsync(Order, "concern");
        var before = await bench.Page.Field("Make and model").InputValueAsync();
        await bench.Page.WriteAsync("Make and model", "Entered after the backup");

        await owner.Page.GetByText("Put it back …").First.TapAsync();
        await owner.Page.GetByRole(AriaRole.Button, new() { Name = "Put it back", Exact = true }).TapAsync();
        await Expect(owner.Page.Locator("#bk-outcome")).ToContainTextAsync("has been put back");
        await Expect(bench.Page.Field("Make and model")).ToHaveValueAsync(before);
        await bench.AnswersAsync();
        await bench.Page.WriteAsync("Make and model", "And on it goes");
    }

    private static void KillBrowserOf(string profile)
    {
        foreach (var folder in Directory.GetDirectories("/proc").Where(f => int.TryParse(Path.GetFileName(f), out _)))
        {
            try
            {
                // Only the browser that this test started carries this folder on its command line.
                if (File.ReadAllText(Path.Combine(folder, "cmdline")).Contains(profile, StringComparison.Ordinal))
                {
                    using var browser = System.Diagnostics.Process.GetProcessById(int.Parse(Path.GetFileName(folder), System.Globalization.CultureInfo.InvariantCulture));
                    browser.Kill();
                }
            }
            catch (Exception e) when (e is IOException or UnauthorizedAccessException or ArgumentException or InvalidOperationException)
            {
                // Gone meanwhile.
            }
        }
    }
}
