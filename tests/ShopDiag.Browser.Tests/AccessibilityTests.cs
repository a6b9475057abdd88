using Deque.AxeCore.Commons;
using Deque.AxeCore.Playwright;
using Microsoft.Playwright;
using ShopDiag.Browser.Tests.Pages;
using ShopDiag.Browser.Tests.Running;
using static Microsoft.Playwright.Assertions;

namespace ShopDiag.Browser.Tests;

/// <summary>What axe finds by the rules of WCAG 2.2, levels A and AA, in every page and on every ground.</summary>
public sealed class AccessibilityTests(Chromium chromium, DemoShop shop) : IClassFixture<DemoShop>
{
    private static readonly AxeRunOptions Rules = new()
    {
        RunOnly = new RunOnlyOptions { Type = "tag", Values = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"] },
    };

    [Theory]
    [InlineData("/orders", ".order-row >> nth=0")]
    [InlineData("/orders/1014?part=concern", ".field >> nth=0")]
    [InlineData("/orders/1014?part=workup", ".engine-plan")]
    [InlineData("/orders/1011?part=finding", ".finding")]
    [InlineData("/orders/1011?part=progress", ".other-step >> nth=0")]
    [InlineData("/orders/1011?part=estimate", ".est-both >> nth=0")]
    [InlineData("/orders/1011?part=write-up", ".write-up >> nth=0")]
    [InlineData("/orders/1011?part=check", "#body-check .note")]
    [InlineData("/orders/1011/estimate", ".est-columns")]
    [InlineData("/orders/1014/obd", "#obd-text")]
    [InlineData("/orders/1014/waveform", "#wf-file")]
    [InlineData("/orders/1014/balance-run", ".br-sources")]
    [InlineData("/orders/1014/balance-run?do=typed", ".br-typed-table")]
    [InlineData("/reference", "main h1")]
    [InlineData("/settings", ".field >> nth=0")]
    [InlineData("/shop/learning", ".learning")]
    [InlineData("/shop/prices", ".pr-row >> nth=0")]
    [InlineData("/parts", ".pt-row >> nth=0")]
    [InlineData("/orders/1009?part=parts", ".pt-row >> nth=0")]
    [InlineData("/owner/backups", ".bk-progress")]
    [InlineData("/owner/customers", "#cu-text")]
    [InlineData("/owner/running", ".bk-facts >> nth=0")]
    [InlineData("/find?q=coil", "main h1")]
    [InlineData("/owner", "#ow-groups")]
    [InlineData("/owner?by=technician&over=distance", "#ow-groups")]
    [InlineData("/owner/orders?by=diagnosis&list=repairs", "tbody tr >> nth=0")]
    [InlineData("/me/figures", "main h1")]
    [InlineData("/orders/1007", "#comeback")]
    [InlineData("/people", ".person >> nth=0")]
    [InlineData("/owner/programs", "#token-name")]
    [InlineData("/orders/1014?part=history", ".audit")]
    public async Task Axe_finds_nothing_grave_on(string path, string there)
    {
        await using var tab = await chromium.TabletAsync(shop.Url);
        await tab.OpenAsync(path);
        await Expect(tab.Page.Locator(there)).ToBeVisibleAsync();
        Assert.Empty(await GraveAsync(tab.Page));
    }

    [Fact]
    public async Task Axe_finds_nothing_grave_on_an_address_that_leads_nowhere()
    {
        await using var tab = await chromium.TabletAsync(shop.Url);
        var answer = await tab.Page.GotoAsync("/no/such/page");
        Assert.Equal(404, answer!.Status);
        Assert.Empty(await GraveAsync(tab.Page));
    }

    [Theory]
    [InlineData(null)]
    [InlineData("dark")]
    public async Task Axe_finds_nothing_grave_on_the_pages_for_signing_in(string? look)
    {
        await using var tab = await chromium.TabletAsync(shop.Url, login: null);
        await tab.Page.GotoAsync("/sign-in");
        if (look is not null)
        {
            await tab.Page.Field("Look of the screen").SelectOptionAsync(look);
        }

        Assert.Empty(await GraveAsync(tab.Page));
        await tab.SignInAsync("lena", remember: true);
        await tab.Page.Locator(".bar-person summary").TapAsync();
        Assert.Empty(await GraveAsync(tab.Page));
        foreach (var path in new[] { "/me", "/settings", "/switch" })
        {
            await tab.Page.GotoAsync(path);
            await Expect(tab.Page.Locator("main h1")).ToBeVisibleAsync();
            Assert.Empty(await GraveAsync(tab.Page));
        }
    }

    [Fact]
    public async Task Axe_finds_nothing_grave_on_the_first_start()
    {
        await using var empty = await ShopServer.StartAsync();
        await using var tab = await chromium.TabletAsync(empty.Url);
        await tab.Page.GotoAsync("/");
        Assert.Empty(await GraveAsync(tab.Page));
        await tab.SetUpAsync(empty);
        await Expect(tab.Page.GetByRole(AriaRole.Button, new() { Name = "Start my shop" })).ToBeVisibleAsync();
        Assert.Empty(await GraveAsync(tab.Page));
    }

    [Theory]
    [InlineData(null)]
    [InlineData("glare")]
    [InlineData("dark")]
    public async Task Axe_finds_nothing_grave_on_a_workup_with_readings_in_the_look(string? look)
    {
        await using var tab = await chromium.TabletAsync(shop.Url);
        await tab.OpenWorkupAsync(DemoShop.InDiagnosis);
        if (look is not null)
        {
            await tab.LookAsync(look);
        }

        Assert.Empty(await GraveAsync(tab.Page));
    }

    [Fact]
    public async Task Axe_finds_nothing_grave_on_an_empty_workup_and_its_entries()
    {
        await using var tab = await chromium.TabletAsync(shop.Url);
        await tab.OpenWorkupAsync(DemoShop.WrittenUp);
        Assert.Empty(await GraveAsync(tab.Page));
        await tab.Page.OpenCellAsync("compression-dry:c1");
        Assert.Empty(await GraveAsync(tab.Page));
        await tab.Page.OpenCellAsync("plug-condition:c1");
        Assert.Empty(await GraveAsync(tab.Page));
    }

    [Theory]
    [InlineData(null, "leak-down:c1")]
    [InlineData("glare", "leak-down:c2")]
    [InlineData("dark", "leak-down:c3")]
    public async Task Axe_finds_nothing_grave_on_what_cannot_be_taken_in_the_look(string? look, string cell)
    {
        await using var tab = await chromium.TabletAsync(shop.Url);
        await tab.OpenWorkupAsync(DemoShop.WrittenUp);
        if (look is not null)
        {
            await tab.LookAsync(look);
        }

        await tab.Page.NextStep().GetByText("Cannot be taken", new() { Exact = true }).TapAsync();
        await tab.Page.SayHereAsync(cell);
        Assert.Empty(await GraveAsync(tab.Page));
        await tab.Page.Locator("#wk-entry-obstacle button").TapAsync();
        await Expect(tab.Page.Cell(cell)).ToContainTextAsync("not possible");
        await tab.Page.OpenCellAsync(cell);
        await Expect(tab.Page.Locator(".wk-not-possible")).ToBeVisibleAsync();
        Assert.Empty(await GraveAsync(tab.Page));
    }

    [Theory]
    [InlineData(null, "borescope:c1")]
    [InlineData("dark", "borescope:c2")]
    public async Task Axe_finds_nothing_grave_on_photos_and_on_one_that_is_looked_at_in_the_look(string? look, string cell)
    {
        await using var tab = await chromium.TabletAsync(shop.Url);
        await tab.OpenWorkupAsync(DemoShop.WrittenUp);
        if (look is not null)
        {
            await tab.LookAsync(look);
        }

        await tab.Page.OpenCellAsync(cell);
        await tab.Page.TakeAsync(PhotoActions.Plug("IMG_0001.jpg"), PhotoActions.Plug("IMG_0002.jpg"));
        await Expect(tab.Page.Photos()).ToHaveCountAsync(2);
        Assert.Empty(await GraveAsync(tab.Page));
        await tab.Page.OpenPhotoAsync(0);
        Assert.Empty(await GraveAsync(tab.Page));
    }

    private static async Task<string[]> GraveAsync(IPage page)
    {
        var found = await page.RunAxe(Rules);
        Assert.NotEmpty(found.Passes);
        return [.. found.Violations.Where(v => v.Impact is "serious" or "critical").SelectMany(v => v.Nodes.Select(n => $"{v.Id}: {n.Html} ({Why(n)})"))];
    }

    private static string Why(AxeResultNode node) => string.Join(' ', node.Any.Concat(node.All).Concat(node.None).Select(c => c.Message));
}
