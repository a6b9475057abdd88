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

    [Theory]
    [InlineData(DemoShop.InDiagnosis, "concern")]
    [InlineData(DemoShop.InDiagnosis, "workup")]
    [InlineData(DemoShop.WithFinding, "finding")]
    [InlineData(DemoShop.WithFinding, "progress")]
    public async Task Every_control_of_an_order_can_be_hit_with_gloves(int order, string part)
    {
        await using var tab = await chromium.TabletAsync(shop.Url);
        await tab.OpenOrderAsync(order, part);
        await tab.Page.Locator($"#body-{part} > *").First.WaitForAsync();
        Assert.Empty(await tab.Page.TooSmallAsync(Least));
    }

    [Fact]
    public async Task Every_control_of_the_workup_can_be_hit_with_gloves()
    {
        await using var tab = await chromium.TabletAsync(shop.Url);
        await tab.OpenWorkupAsync(DemoShop.InDiagnosis);
        Assert.Empty(await tab.Page.TooSmallAsync(Least));
    }

    [Theory]
    [InlineData("compression-dry:c2")]
    [InlineData("plug-condition:c2")]
    [InlineData("coil-swap:c2")]
    [InlineData("trouble-codes:e")]
    public async Task Every_control_of_an_entry_can_be_hit_with_gloves(string cell)
    {
        await using var tab = await chromium.TabletAsync(shop.Url);
        await tab.OpenWorkupAsync(DemoShop.InDiagnosis);
        await tab.Page.OpenCellAsync(cell);
        Assert.Empty(await tab.Page.TooSmallAsync(Least));
    }
}
