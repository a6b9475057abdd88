using Microsoft.Playwright;
using ShopDiag.Browser.Tests.Pages;
using ShopDiag.Browser.Tests.Running;
using static Microsoft.Playwright.Assertions;

namespace ShopDiag.Browser.Tests;

/// <summary>Photos in a real browser: taken, marked, chosen for paper, deleted and got back; with and without a connection.</summary>
public sealed class PhotoTests(Chromium chromium, DemoShop shop) : IClassFixture<DemoShop>
{
    [Fact]
    public async Task Two_photos_are_taken_one_is_marked_and_chosen_for_paper_and_all_of_it_is_there_after_a_reload()
    {
        const string Cell = "plug-condition:c2";
        await using var tab = await chromium.TabletAsync(shop.Url, 1024, 768);
        var page = tab.Page;
        await OpenAsync(tab, Cell);
        await page.TouchChoiceAsync("Insulator cracked");
        await page.OpenCellAsync(Cell);
        await page.TakeAsync(PhotoActions.Plug("IMG_0001.jpg"), PhotoActions.Plug("IMG_0002.jpg", 900, 1200));
        await Expect(page.Photos()).ToHaveCountAsync(2);
        await Expect(page.Cell(Cell)).ToContainTextAsync("2 photos");

        await page.OpenPhotoAsync(0);
        await page.MarksAreSeenAsync(false);
        await page.DrawAsync((.4, .6), (.6, .6), (.6, .8), (.4, .8), (.4, .6));
        await page.MarksSavedAsync(1);
        await page.WriteAsync("What the photo shows", "Cracked insulator");
        await page.GetByRole(AriaRole.Switch, new() { Name = "Print in the customer report" }).TapAsync();
        await Expect(page.GetByRole(AriaRole.Switch)).ToHaveAttributeAsync("aria-checked", "true");
        Assert.Empty(await page.TooSmallAsync(56));
        Assert.Empty(await page.TooWideAsync());
        await page.ReloadAsync();

        await OpenAsync(tab, Cell);
        await Expect(page.Photos()).ToHaveCountAsync(2);
        await Expect(page.Photos().First).ToContainTextAsync("marked, on paper");
        await Expect(page.Photos().First.Locator("img")).ToHaveAttributeAsync("alt", "Photo: Cracked insulator");
        Assert.True(await page.Photos().First.Locator("img").EvaluateAsync<bool>("async i => { await i.decode(); return i.naturalWidth === 320; }"));
        await page.OpenPhotoAsync(0);
        await page.MarksSavedAsync(1);
        await page.MarksAreSeenAsync();
        Assert.True(await page.Locator(".ph-picture img").EvaluateAsync<bool>("async i => { await i.decode(); return i.naturalWidth === 1600 && i.naturalHeight === 1200; }"));
        await page.GetByText("Close", new() { Exact = true }).First.TapAsync();
        await Expect(page.Photos().First).ToBeFocusedAsync();

        // The same photos with the cylinder.
        await page.Locator("[data-entry] [data-close]").TapAsync();
        await page.Locator(".engine-plan").GetByRole(AriaRole.Button, new() { NameRegex = new("^Cylinder 2") }).TapAsync();
        await Expect(page.Locator(".wk-about-cylinder .ph-thumb")).ToHaveCountAsync(2);
        tab.HasNothingToComplainOf();
    }

    [Fact]
    public async Task Marks_are_set_undone_and_cleared_by_keyboard_and_finger()
    {
        const string Cell = "borescope:c1";
        await using var tab = await chromium.TabletAsync(shop.Url, 768, 1024);
        var page = tab.Page;
        await OpenAsync(tab, Cell);
        await page.TakeAsync(PhotoActions.Plug("IMG_0001.jpg"));
        await page.OpenPhotoAsync(0);

        await page.Canvas().FocusAsync();
        foreach (var key in new[] { "ArrowRight", "ArrowRight", "ArrowDown", "Enter" })
        {
            await page.Keyboard.PressAsync(key);
        }

        await page.MarksSavedAsync(1);
        var ring = await MarksAsync(page);
        Assert.InRange(ring[0].Where((_, i) => i % 2 == 0).Average(), .51, .57);
        Assert.InRange(ring[0].Where((_, i) => i % 2 == 1).Average(), .49, .55);
        await page.Canvas().TapAsync(new() { Position = new() { X = 40, Y = 40 } });
        await page.MarksSavedAsync(2);
        await page.GetByText("Clear the marks").TapAsync();
        await page.MarksSavedAsync(0);
        await page.MarksAreSeenAsync(false);
        await page.GetByText("Undo the last mark").TapAsync();
        await page.MarksSavedAsync(2);
        await page.Canvas().FocusAsync();
        await page.Keyboard.PressAsync("Backspace");
        await page.MarksSavedAsync(1);
        await page.Keyboard.PressAsync("Escape");
        await Expect(page.Photos().First).ToBeFocusedAsync();
        await Expect(page.Photos().First).ToContainTextAsync("marked");
        Assert.Empty(await page.TooSmallAsync(48));
        tab.HasNothingToComplainOf();
    }

    [Fact]
    public async Task A_deleted_photo_comes_back_by_one_touch()
    {
        const string Cell = "leak-down:c3";
        await using var tab = await chromium.TabletAsync(shop.Url, 1024, 768);
        var page = tab.Page;
        await OpenAsync(tab, Cell);
        await page.TakeAsync(PhotoActions.Plug("IMG_0001.jpg"), PhotoActions.Plug("IMG_0002.jpg", 900, 1200));
        await Expect(page.Photos()).ToHaveCountAsync(2);
        await page.OpenPhotoAsync(1);
        await page.GetByText("Delete the photo").TapAsync();
        await Expect(page.Photos()).ToHaveCountAsync(1);
        await Expect(page.Cell(Cell)).Not.ToContainTextAsync("2 photos");
        await Expect(page.Locator("#photo-undo")).ToBeFocusedAsync();

        await page.Keyboard.PressAsync("Enter");

        await Expect(page.Photos()).ToHaveCountAsync(2);
        await Expect(page.Cell(Cell)).ToContainTextAsync("2 photos");
    }

    [Fact]
    public async Task A_photo_taken_without_a_connection_outlives_a_reload_and_is_sent_once_when_there_is_one()
    {
        const string Cell = "borescope:c4";
        await using var tab = await chromium.TabletAsync(shop.Url, 1024, 768);
        var page = tab.Page;
        await OpenAsync(tab, Cell);
        await page.RouteAsync("**/photos/**", route => route.AbortAsync("connectionreset"));
        await page.TakeAsync(PhotoActions.Plug("IMG_0001.jpg"));
        await Expect(page.Locator("[data-photo-queue]")).ToContainTextAsync("IMG_0001.jpg: kept on this tablet, sent when there is a connection");
        await Expect(page.Locator("#saving")).ToContainTextAsync("1 entry kept on this tablet");
        await page.ReloadAsync();
        await Expect(page.Locator("#saving")).ToContainTextAsync("1 entry kept on this tablet");
        await Expect(page.Photos()).ToHaveCountAsync(0);

        await page.UnrouteAsync("**/photos/**");

        await OpenAsync(tab, Cell);
        await Expect(page.Photos()).ToHaveCountAsync(1);
        await Expect(page.Locator("#saving")).ToHaveAttributeAsync("data-state", "saved");
        await page.ReloadAsync();
        await OpenAsync(tab, Cell);
        await Expect(page.Photos()).ToHaveCountAsync(1);
        await Expect(page.Locator("[data-photo-queue] li")).ToHaveCountAsync(0);
    }

    [Fact]
    public async Task A_photo_taken_and_a_mark_drawn_while_the_line_is_cut_arrive_when_it_is_back()
    {
        const string Cell = "plug-condition:c5";
        using var line = new Line(new Uri(shop.Url).Port);
        await using var tab = await chromium.TabletAsync(line.Url, 1024, 768);
        var page = tab.Page;
        await OpenAsync(tab, Cell);
        await page.TakeAsync(PhotoActions.Plug("IMG_0001.jpg"));
        await page.OpenPhotoAsync(0);

        line.Cut();
        await Expect(page.Locator("#saving")).ToHaveAttributeAsync("data-state", "down");
        await page.DrawAsync((.2, .2), (.8, .8));
        await page.MarksAreSeenAsync();
        line.Mend();

        await page.MarksSavedAsync(1);
        await using var other = await chromium.TabletAsync(shop.Url);
        await OpenAsync(other, Cell);
        await other.Page.OpenPhotoAsync(0);
        await other.Page.MarksSavedAsync(1);
    }

    [Fact]
    public async Task What_is_refused_is_said_by_name_and_the_others_are_taken()
    {
        const string Cell = "intake-leak:c1";
        await using var tab = await chromium.TabletAsync(shop.Url, 1024, 768);
        var page = tab.Page;
        await OpenAsync(tab, Cell);
        await page.TakeAsync(new FilePayload { Name = "notes.jpg", MimeType = "image/jpeg", Buffer = "no picture"u8.ToArray() }, PhotoActions.Plug("IMG_0001.jpg"));
        await Expect(page.Photos()).ToHaveCountAsync(1);
        await Expect(page.Locator("[data-photo-queue]")).ToContainTextAsync("Not taken: notes.jpg. It is no JPEG, PNG or WebP picture.");
        await page.Locator("[data-photo-queue] button").TapAsync();
        await Expect(page.Locator("[data-photo-queue] li")).ToHaveCountAsync(0);
        await page.ReloadAsync();
        await OpenAsync(tab, Cell);
        await Expect(page.Photos()).ToHaveCountAsync(1);
        await Expect(page.Locator("[data-photo-queue] li")).ToHaveCountAsync(0);
    }

    private static async Task OpenAsync(Tab tab, string cell)
    {
        await tab.OpenWorkupAsync(DemoShop.InDiagnosis);
        await tab.Page.OpenCellAsync(cell);
    }

    private static async Task<double[][]> MarksAsync(IPage page) =>
        System.Text.Json.JsonSerializer.Deserialize<double[][]>(await page.Locator("[data-photo-viewer] input[type=hidden]").InputValueAsync())!;
}
