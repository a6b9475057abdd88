using ShopDiag.Browser.Tests.Pages;
using ShopDiag.Browser.Tests.Running;

namespace ShopDiag.Browser.Tests;

/// <summary>Gloves: nothing that can be touched is smaller than 48 px (Material's touch target of 48 dp; WCAG 2.5.8 asks for 24).</summary>
public sealed class ControlSizeTests(Chromium chromium, DemoShop shop) : IClassFixture<DemoShop>
{
    private const int Least = 48;

    [Fact]
    public async Task Every_control_of_the_open_orders_can_be_hit_with_gloves()
    {
        await using var tab = await chromium.TabletAsync(shop.Url);
        await tab.OpenAsync("/orders");
        await tab.Page.Locator(".order-row").First.WaitForAsync();
        Assert.Empty(await tab.Page.TooSmallAsync(Least));
    }

    [Fact]
    public async Task Every_control_of_an_order_can_be_hit_with_gloves_whatever_part_is_open()
    {
        await using var tab = await chromium.TabletAsync(shop.Url);
        var small = new List<string>();
        foreach (var (order, part) in new[] { (DemoShop.InDiagnosis, "concern"), (DemoShop.InDiagnosis, "workup"), (DemoShop.WithFinding, "finding"), (DemoShop.WithFinding, "progress") })
        {
            await tab.OpenOrderAsync(order, part);
            await tab.Page.Locator($"#body-{part} > *").First.WaitForAsync();
            small.AddRange(await tab.Page.TooSmallAsync(Least));
        }

        Assert.Empty(small);
    }

    [Fact]
    public async Task Every_figure_of_the_owners_page_can_be_hit_with_gloves()
    {
        await using var tab = await chromium.TabletAsync(shop.Url);
        await tab.OpenAsync("/owner");
        await tab.Page.Locator("#ow-groups").WaitForAsync();
        Assert.Empty(await tab.Page.TooSmallAsync(Least));
    }

    [Fact]
    public async Task Every_control_of_signing_in_and_of_the_people_can_be_hit_with_gloves()
    {
        await using var tab = await chromium.TabletAsync(shop.Url, login: null);
        var small = new List<string>();
        await tab.Page.GotoAsync("/sign-in");
        small.AddRange(await tab.Page.TooSmallAsync(Least));
        await tab.SignInAsync(SignedIn.Owner, remember: true);
        await tab.Page.Locator(".bar-person summary").TapAsync();
        small.AddRange(await tab.Page.TooSmallAsync(Least));
        await tab.OpenAsync("/people");
        await tab.Page.Locator(".person").First.WaitForAsync();
        small.AddRange(await tab.Page.TooSmallAsync(Least));
        foreach (var path in new[] { "/me", "/switch" })
        {
            await tab.Page.GotoAsync(path);
            small.AddRange(await tab.Page.TooSmallAsync(Least));
        }

        Assert.Empty(small);
    }

    [Fact]
    public async Task Every_control_of_the_workup_can_be_hit_with_gloves()
    {
        await using var tab = await chromium.TabletAsync(shop.Url);
        await tab.OpenWorkupAsync(DemoShop.InDiagnosis);
        Assert.Empty(await tab.Page.TooSmallAsync(Least));
    }

    [Fact]
    public async Task Every_control_of_an_entry_of_any_kind_can_be_hit_with_gloves()
    {
        await using var tab = await chromium.TabletAsync(shop.Url);
        await tab.OpenWorkupAsync(DemoShop.InDiagnosis);
        var small = new List<string>();
        foreach (var cell in new[] { "compression-dry:c2", "plug-condition:c2", "coil-swap:c2", "trouble-codes:e" })
        {
            await tab.Page.OpenCellAsync(cell);
            small.AddRange(await tab.Page.TooSmallAsync(Least));
        }

        Assert.Empty(small);
    }

    /// <summary>A bar of two rows takes a fifth of a tablet's screen from the work.</summary>
    [Theory]
    [InlineData("nora", 1280, 800)]
    [InlineData("ruth", 1280, 800)]
    [InlineData("lena", 1024, 768)]
    [InlineData("nora", 1024, 768)]
    [InlineData("nora", 1024, 768, "glare")]
    [InlineData("nora", 1280, 800, "glare")]
    [InlineData("nora", 1280, 800, "dark")]
    public async Task The_bar_is_one_row_at_the_sizes_of_desk_and_tablet(string who, int width, int height, string look = "paper")
    {
        await using var tab = await chromium.TabletAsync(shop.Url, width, height, login: who);
        await tab.OpenAsync("/orders");
        await tab.Page.Locator(".order-row").First.WaitForAsync();
        await tab.Page.EvaluateAsync("look => { document.documentElement.dataset.look = look; }", look);
        var tops = await tab.Page.EvaluateAsync<double[]>("() => [...document.querySelectorAll('.bar nav a, .bar form[role=search], .bar-person summary')].map(e => e.getBoundingClientRect().top)");
        Assert.All(tops, t => Assert.Equal(tops[0], t, 1.0));
        Assert.Empty(await tab.Page.TooSmallAsync(Least));
    }
}
