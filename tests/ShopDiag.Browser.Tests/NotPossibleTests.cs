using ShopDiag.Browser.Tests.Pages;
using ShopDiag.Browser.Tests.Running;
using static Microsoft.Playwright.Assertions;

namespace ShopDiag.Browser.Tests;

/// <summary>A test that the car does not allow: said on the tablet, planned around, undone, kept through a cut line.</summary>
public sealed class NotPossibleTests(Chromium chromium)
{
    [Fact]
    public async Task Said_of_the_next_step_another_comes_undo_brings_it_back_and_a_reading_ends_it()
    {
        await using var server = await ShopServer.StartAsync(demo: true);
        await using var tab = await chromium.TabletAsync(server.Url);
        var page = tab.Page;
        await tab.OpenWorkupAsync(DemoShop.InDiagnosis);
        var (title, place) = (page.Locator("#wk-next-title"), page.Locator(".wk-next .wk-where"));
        var (first, where) = (await title.InnerTextAsync(), await place.InnerTextAsync());

        await page.NextStep().GetByText("Cannot be taken", new() { Exact = true }).TapAsync();
        await page.NextStep().GetByLabel("Why, if you like").FillAsync("no room for the tester");
        await page.NextStep().GetByText("Save", new() { Exact = true }).TapAsync();
        await Expect(page.Locator(".wk-saved")).ToContainTextAsync("not possible");
        await Expect(title).Not.ToHaveTextAsync(first);
        await Expect(title).ToBeFocusedAsync();

        await page.GetByText("Undo", new() { Exact = true }).TapAsync();
        await Expect(title).ToHaveTextAsync(first);
        await Expect(place).ToHaveTextAsync(where);
        await Expect(page.Locator(".wk-saved")).ToContainTextAsync("stays on record");

        // By keyboard alone, in a cell and for the whole car.
        await page.OpenCellAsync("coil-feed:c2");
        await page.Entry().GetByText("Cannot be taken here").FocusAsync();
        await page.Keyboard.PressAsync("Enter");
        await Expect(page.Locator("#wk-entry-obstacle")).ToBeVisibleAsync();
        await page.Locator("#wk-entry-obstacle input[type=radio]:checked").FocusAsync();
        await page.Keyboard.PressAsync("ArrowDown");
        await page.Keyboard.PressAsync("Tab");
        await page.Keyboard.TypeAsync("no schematic");
        await page.Keyboard.PressAsync("Enter");
        await Expect(page.Locator("[data-cell^=\"coil-feed:c\"]:has([data-pattern=barred])")).ToHaveCountAsync(5);
        await Expect(page.Cell("coil-feed:c2")).ToBeFocusedAsync();
        await Expect(page.Cell("coil-feed:c2")).ToHaveAccessibleNameAsync("Coil feed, cylinder 2: not possible");

        await page.OpenCellAsync("coil-feed:c3");
        await Expect(page.Entry()).ToContainTextAsync("Not possible on this car: no schematic");
        await page.TypeAsync("12.6\n");
        await Expect(page.Cell("coil-feed:c3")).ToContainTextAsync("12.6");
        await Expect(page.Locator("[data-pattern=barred]")).ToHaveCountAsync(0);
        tab.HasNothingToComplainOf();
    }

    [Fact]
    public async Task Said_while_the_line_is_cut_it_is_on_the_sheet_when_it_is_back_and_only_once()
    {
        await using var server = await ShopServer.StartAsync(demo: true);
        using var line = new Line(server.Port);
        await using var tab = await chromium.TabletAsync(line.Url);
        var page = tab.Page;
        await tab.OpenWorkupAsync(DemoShop.WrittenUp);
        await page.SayHereAsync("leak-down:c1");

        line.Cut();
        await page.GetByLabel("Nowhere on this car").Last.CheckAsync(new() { Force = true });
        await page.Locator("#wk-entry-obstacle-why").FillAsync("no adapter fits");
        await page.Locator("#wk-entry-obstacle button").TapAsync();
        await Expect(page.Locator("#saving")).ToHaveAttributeAsync("data-state", "down");
        line.Mend();

        await Expect(page.Cell("leak-down:c1")).ToContainTextAsync("not possible");
        await Expect(page.Cell("leak-down:c2")).ToContainTextAsync("not possible");
        await using var other = await chromium.TabletAsync(server.Url);
        await other.OpenWorkupAsync(DemoShop.WrittenUp);
        await other.Page.OpenCellAsync("leak-down:c2");
        await Expect(other.Page.Locator(".wk-not-possible")).ToHaveCountAsync(1);
        await Expect(other.Page.Locator(".wk-not-possible")).ToContainTextAsync("no adapter fits");
        await other.Page.GetByText("It can be taken after all").TapAsync();
        await Expect(page.Cell("leak-down:c1")).Not.ToContainTextAsync("not possible");
    }

    [Fact]
    public async Task What_was_being_said_is_there_again_after_the_server_was_killed()
    {
        await using var server = await ShopServer.StartAsync(demo: true);
        await using var tab = await chromium.TabletAsync(server.Url);
        var page = tab.Page;
        await tab.OpenWorkupAsync(DemoShop.WrittenUp);
        await page.SayHereAsync("leak-down:c2");
        await page.Locator("#wk-entry-obstacle-why").FillAsync("no adapter");
        await server.KillAsync();
        await page.Locator("#wk-entry-obstacle-why").PressSequentiallyAsync(" fits");
        await server.StartAgainAsync();

        await page.SheetIsThereAsync();
        await page.SayHereAsync("leak-down:c2");
        await Expect(page.Locator("#wk-entry-obstacle-why")).ToHaveValueAsync("no adapter fits");
        await page.Locator("#wk-entry-obstacle button").TapAsync();
        await Expect(page.Cell("leak-down:c2")).ToContainTextAsync("not possible");
        await Expect(page.Cell("leak-down:c1")).Not.ToContainTextAsync("not possible");
        Assert.DoesNotContain("adapter", await page.EvaluateAsync<string>("() => JSON.stringify(localStorage)"), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(1024, 768)]
    [InlineData(768, 1024)]
    public async Task Saying_it_lies_within_the_screen_and_can_be_hit_with_gloves(int width, int height)
    {
        await using var server = await ShopServer.StartAsync(demo: true);
        await using var tab = await chromium.TabletAsync(server.Url);
        var page = tab.Page;
        await page.SetViewportSizeAsync(width, height);
        await tab.OpenWorkupAsync(DemoShop.InDiagnosis);
        await page.NextStep().GetByText("Cannot be taken", new() { Exact = true }).TapAsync();
        await Expect(page.NextStep().GetByText("Save", new() { Exact = true })).ToBeInViewportAsync(new() { Ratio = 1 });
        Assert.Empty(await page.TooSmallAsync(48));
        await page.SayHereAsync("leak-down:c2");
        await Expect(page.Locator("#wk-entry-obstacle button")).ToBeInViewportAsync(new() { Ratio = 1 });
        Assert.Empty(await page.TooSmallAsync(48));
        Assert.True(await page.EvaluateAsync<bool>("() => document.documentElement.scrollWidth <= innerWidth"));
        await page.Locator("#wk-entry-obstacle button").TapAsync();
        // The entry goes on to the next cylinder and, on a narrow screen, may lie over the cell: a hand closes it first.
        await Expect(page.Entry()).ToContainTextAsync("Cylinder 3");
        await page.Entry().GetByText("Close", new() { Exact = true }).TapAsync();
        await page.OpenCellAsync("leak-down:c2");
        await Expect(page.GetByText("It can be taken after all")).ToBeInViewportAsync(new() { Ratio = 1 });
        Assert.Empty(await page.TooSmallAsync(48));
    }
}
