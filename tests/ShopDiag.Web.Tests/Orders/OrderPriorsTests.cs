using Bunit;
using Microsoft.Extensions.DependencyInjection;
using ShopDiag.Diagnosis;
using ShopDiag.Diagnosis.Learning;
using ShopDiag.Storage.Orders;
using ShopDiag.Web.Components.Pages;
using ShopDiag.Web.Components.WorkupViews;
using ShopDiag.Web.Orders;
using ShopDiag.Web.Tests.Support;

namespace ShopDiag.Web.Tests.Orders;

/// <summary>The shop's own priors on an order.</summary>
public sealed class OrderPriorsTests : PageTest, IAsyncLifetime
{
    private const string Four = "i4-1342-coil-on-plug-port";
    private TestShop _shop = null!;

    public async ValueTask InitializeAsync()
    {
        _shop = await TestShop.OpenAsync();
        Use(_shop);
        Services.AddWorkupPage();
    }

    async ValueTask IAsyncDisposable.DisposeAsync()
    {
        await base.DisposeAsync();
        await _shop.DisposeAsync();
    }

    [Fact]
    public async Task The_workup_carries_the_weights_learned_for_its_engine()
    {
        await _shop.ProveAsync(Four, "plug-worn", 2);
        using var live = await OpenAsync();
        var expected = PriorLearning.For(EngineFamily.Of(live.Order.Vehicle.Engine!), await _shop.Cases.CountAsync(), Knowledge.Shipped);
        Assert.Equal(2, live.Priors!.AllCases);
        Assert.Equal(expected.Weights["plug-worn"], live.Workup!.Shop.PriorWeights!["plug-worn"]);
        Assert.True(live.Workup.Shop.PriorWeights["plug-worn"] > Knowledge.Shipped.Cause("plug-worn")!.Weight);
    }

    [Fact]
    public async Task Turned_off_the_workup_is_as_shipped()
    {
        await _shop.ProveAsync(Four, "plug-worn", 2);
        await _shop.Shops.SaveAsync((await _shop.Shops.GetAsync())! with { LearnFromCases = false });
        using var live = await OpenAsync();
        Assert.Null(live.Priors);
        Assert.Null(live.Workup!.Shop.PriorWeights);
    }

    [Fact]
    public async Task An_orders_own_finding_is_no_reason_to_expect_it()
    {
        var order = (await _shop.ProveAsync(Four, "plug-worn", 1))[0];
        using var live = await OrderLive.OpenAsync(With, order.Number, work => work());
        Assert.Null(live!.Priors);
    }

    [Fact]
    public async Task The_list_of_causes_says_that_the_priors_are_the_shops_own()
    {
        var order = await NewAsync();
        Assert.Empty(RenderWorkup(order).FindAll(".wk-prior-source"));
        await _shop.ProveAsync(Four, "plug-worn", 2);
        var page = RenderWorkup(order);
        var line = page.Find(".wk-prior-source");
        Assert.Equal("How common each cause is to begin with is learned from this shop: 2 proven cases on all engines. How it learns", line.TextContent.Trim());
        Assert.Equal("/shop/learning", line.QuerySelector("a")!.GetAttribute("href"));
        page.Act(p => p.Find("button.wk-cause-line").Click());
        Assert.Contains("(common practice, and this shop's own cases)", page.Find(".wk-evidence").TextContent, StringComparison.Ordinal);
    }

    private OrderPageServices With => Services.GetRequiredService<OrderPageServices>();

    private IRenderedComponent<WorkupPage> RenderWorkup(RepairOrder order)
    {
        var page = Render<WorkupPage>(p => p.Add(x => x.Number, order.Number));
        page.WaitForElement("button.wk-cause-line");
        return page;
    }

    private async Task<RepairOrder> NewAsync()
    {
        var order = await _shop.NewOrderAsync();
        await _shop.PutEngineAsync(order.Id, Four);
        return order;
    }

    private async Task<OrderLive> OpenAsync() => (await OrderLive.OpenAsync(With, (await NewAsync()).Number, work => work()))!;
}
