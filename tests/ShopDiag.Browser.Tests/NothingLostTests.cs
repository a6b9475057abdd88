using Microsoft.Playwright;
using ShopDiag.Browser.Tests.Pages;
using ShopDiag.Browser.Tests.Running;
using static Microsoft.Playwright.Assertions;

namespace ShopDiag.Browser.Tests;

/// <summary>Nothing that was typed is ever lost: not by a cut line, not by a killed server, not by a reload.</summary>
public sealed class NothingLostTests(Chromium chromium)
{
    private const int Order = DemoShop.WrittenUp;
    private const string Concern = "In the customer's words";

    [Fact]
    public async Task What_is_typed_while_the_line_is_cut_is_saved_when_it_is_back()
    {
        await using var server = await ShopServer.StartAsync(demo: true);
        using var line = new Line(server.Port);
        await using var tab = await chromium.TabletAsync(line.Url);
        await tab.OpenOrderAsync(Order, "concern");

        line.Cut();
        await tab.Page.Field(Concern).FillAsync("Shakes when cold, written without a connection");
        // Personal data, which the browser's storage never holds.
        await tab.Page.Field("Name").FillAsync("Maud Fenwick");
        await Expect(tab.Page.Locator("#saving")).ToHaveAttributeAsync("data-state", "down");
        await Expect(tab.Page.Locator("#saving")).ToContainTextAsync("2 entries kept on this tablet");
        await tab.Page.Field(Concern).PressSequentiallyAsync(", and more");
        Assert.DoesNotContain("Fenwick", await tab.Page.EvaluateAsync<string>("() => JSON.stringify(localStorage)"), StringComparison.Ordinal);
        line.Mend();

        await Expect(tab.Page.Field(Concern)).ToHaveAttributeAsync("data-saved", "Shakes when cold, written without a connection, and more");
        await using var other = await chromium.TabletAsync(server.Url);
        await other.OpenOrderAsync(Order, "concern");
        await Expect(other.Page.Field(Concern)).ToHaveValueAsync("Shakes when cold, written without a connection, and more");
        await Expect(other.Page.Field("Name")).ToHaveValueAsync("Maud Fenwick");
    }

    [Fact]
    public async Task A_reading_entered_while_the_line_is_cut_is_on_the_sheet_when_it_is_back_and_only_once()
    {
        await using var server = await ShopServer.StartAsync(demo: true);
        using var line = new Line(server.Port);
        await using var tab = await chromium.TabletAsync(line.Url);
        await tab.OpenWorkupAsync(Order);
        await tab.Page.OpenCellAsync("coil-feed:c1");

        line.Cut();
        await tab.Page.TypeAsync("12.7\n");
        await Expect(tab.Page.Locator("#saving")).ToHaveAttributeAsync("data-state", "down");
        line.Mend();

        await Expect(tab.Page.Cell("coil-feed:c1")).ToContainTextAsync("12.7");
        await using var other = await chromium.TabletAsync(server.Url);
        await other.OpenWorkupAsync(Order);
        await Expect(other.Page.Cell("coil-feed:c1").Locator(".wk-figure")).ToContainTextAsync("12.7");
        await Expect(other.Page.Cell("coil-feed:c1").Locator(".wk-extra")).ToHaveCountAsync(0);
    }

    [Fact]
    public async Task What_is_typed_while_the_server_is_killed_is_there_after_it_starts_again()
    {
        await using var server = await ShopServer.StartAsync(demo: true);
        await using var counter = await chromium.TabletAsync(server.Url);
        await using var bench = await chromium.TabletAsync(server.Url);
        await counter.OpenOrderAsync(Order, "concern");
        await bench.OpenWorkupAsync(Order);
        await bench.Page.OpenCellAsync("compression-dry:c2");
        await counter.Page.Field(Concern).FillAsync("Begun before ");
        await bench.Page.TypeAsync("1");

        await server.KillAsync();
        await counter.Page.Field(Concern).PressSequentiallyAsync("and ended after");
        await bench.Page.TypeAsync("72");
        await server.StartAgainAsync();

        await Expect(counter.Page.Field(Concern)).ToHaveAttributeAsync("data-saved", "Begun before and ended after");
        await PickUpAsync(bench.Page, "Compression, dry");
        await Expect(bench.Page.NumberField("Compression")).ToHaveValueAsync("172");
        await bench.Page.TypeAsync("\n");
        await Expect(bench.Page.Cell("compression-dry:c2")).ToContainTextAsync("172");
    }

    [Fact]
    public async Task A_reload_keeps_an_entry_that_was_not_finished()
    {
        await using var server = await ShopServer.StartAsync(demo: true);
        await using var tab = await chromium.TabletAsync(server.Url);
        await tab.OpenWorkupAsync(Order);
        await tab.Page.OpenCellAsync("compression-dry:c3");
        await tab.Page.TypeAsync("16");
        await tab.Page.ReloadAsync();

        await PickUpAsync(tab.Page, "Compression, dry");
        await Expect(tab.Page.NumberField("Compression")).ToHaveValueAsync("16");
        // The hand goes on where it stopped.
        await tab.Page.TypeAsync("8\n");
        await Expect(tab.Page.Cell("compression-dry:c3")).ToContainTextAsync("168");
        await tab.Page.ReloadAsync();
        await tab.Page.SheetIsThereAsync();
        await Expect(tab.Page.GetByLabel("Unfinished entries")).ToHaveCountAsync(0);
    }

    private static async Task PickUpAsync(IPage page, string test)
    {
        await Expect(page.GetByLabel("Unfinished entries")).ToContainTextAsync(test);
        await page.GetByText("Pick it up").TapAsync();
        await Expect(page.Entry().Locator("input[data-pad]:focus")).ToBeAttachedAsync();
    }
}
