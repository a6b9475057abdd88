using Bunit;
using Microsoft.Extensions.DependencyInjection;
using ShopDiag.Comebacks.Repairs;
using ShopDiag.Diagnosis;
using ShopDiag.Diagnosis.Workups;
using ShopDiag.Storage.Orders;
using ShopDiag.Web.Components.Orders;
using ShopDiag.Web.Orders;
using ShopDiag.Web.Tests.Support;

namespace ShopDiag.Web.Tests.Orders;

/// <summary>An order on a car that was repaired before: what is proposed, what a person says, and what that does.</summary>
public sealed class ComebackPartTests : PageTest, IAsyncLifetime
{
    private TestShop _shop = null!;
    private RepairOrder _repair = null!;
    private RepairOrder _back = null!;

    public async ValueTask InitializeAsync()
    {
        _shop = await TestShop.OpenAsync();
        Use(_shop);
        _repair = await _shop.NewOrderAsync((OrderField.ConcernCodes, "P0301"), (OrderField.Odometer, "50000"), (OrderField.OdometerUnit, "mi"), (OrderField.ConcernWhen, "load"));
        await _shop.PutEngineAsync(_repair.Id, "i4-1342-coil-on-plug-port");
        var conclusion = new Conclusion(
            [new("coil-failed", Place.Cylinder(1))], [new("coil-swap", Place.Cylinder(1), "follows", "It went along.")], new Repair("Replace it.", [new("Ignition coil", 1, Place.Cylinder(1), "", false)], 20, []));
        await _shop.Orders.SetFindingAsync(_repair.Id, new() { Conclusion = conclusion, Probability = 0.97, At = _shop.Time.GetUtcNow().UtcDateTime, By = "Ann" }, Guid.NewGuid());
        await MoveAsync(_repair, OrderStage.InRepair);
        await MoveAsync(_repair, OrderStage.HandedOver);
        _shop.Time.Advance(TimeSpan.FromDays(20));
        var opened = await _shop.NewOrderAsync();
        await _shop.Orders.UseVehicleAsync(opened.Id, _repair.Vehicle.Id, Guid.NewGuid());
        await _shop.SetAsync(opened.Id, OrderField.ConcernCodes, "P0301");
        await _shop.SetAsync(opened.Id, OrderField.ConcernWhen, "wet");
        await _shop.SetAsync(opened.Id, OrderField.OdometerUnit, "mi");
        await _shop.SetAsync(opened.Id, OrderField.Odometer, "51000");
        _back = (await _shop.Orders.GetAsync(opened.Id))!;
    }

    async ValueTask IAsyncDisposable.DisposeAsync()
    {
        await base.DisposeAsync();
        await _shop.DisposeAsync();
    }

    [Fact]
    public async Task A_new_order_on_a_repaired_car_proposes_itself_with_what_is_the_same_and_what_is_not()
    {
        var part = await PartAsync(_back);
        Assert.Equal("Is this the same trouble again?", part.WaitForElement("#comeback").TextContent);
        Assert.Equal(
            [$"Order {_repair.Number} was handed over 20 days ago and 1,000 miles back.", "Cylinder 1 shows the trouble again.", "Code P0301 is stored again."],
            part.FindAll(".cb-columns > div:first-child ul:first-of-type li").Select(l => l.TextContent));
        Assert.Contains("Then it happened under load, now in the wet.", part.Markup, StringComparison.Ordinal);
        var old = part.Find(".cb-old");
        Assert.Contains("Ignition coil failed", old.TextContent, StringComparison.Ordinal);
        Assert.Contains("It went along.", old.TextContent, StringComparison.Ordinal);
        Assert.Equal([$"/orders/{_repair.Number}", $"/orders/{_repair.Number}/workup"], old.QuerySelectorAll("a").Select(a => a.GetAttribute("href")));
    }

    [Theory]
    [InlineData("Same trouble again", ComebackAnswer.Yes, "A comeback")]
    [InlineData("Another trouble", ComebackAnswer.OtherTrouble, "An earlier repair on this car")]
    [InlineData("No comeback", ComebackAnswer.No, "An earlier repair on this car")]
    public async Task What_a_person_says_is_kept_and_can_be_said_again(string button, ComebackAnswer answer, string title)
    {
        var part = await PartAsync(_back);
        await PressAsync(part, button);
        part.WaitForAssertion(() => Assert.Equal(title, part.Find("#comeback").TextContent));
        var kept = (await _shop.Orders.GetAsync(_back.Id))!;
        Assert.Equal((answer, answer == ComebackAnswer.Yes ? _repair.Id : (Guid?)null), (kept.ComebackAnswer, kept.ComebackOf));
        Assert.Equal("true", part.FindAll("[role=group] button").Single(b => b.TextContent == button).GetAttribute("aria-pressed"));
        await PressAsync(part, "No comeback");
        part.WaitForAssertion(() => Assert.Contains("No comeback (today", part.Find("[role=status]").TextContent, StringComparison.Ordinal));
    }

    [Fact]
    public async Task Yes_links_both_orders_and_tells_the_reasoning()
    {
        var part = await PartAsync(_back);
        await PressAsync(part, "Same trouble again");
        // The answer is saved by then: only what is saved can be read on the other order.
        part.WaitForAssertion(() => Assert.Equal("A comeback", part.Find("#comeback").TextContent));
        var repair = await PartAsync(_repair);
        var came = repair.WaitForElement("section[aria-labelledby=came-back]");
        Assert.Equal($"/orders/{_back.Number}", came.QuerySelector("a")!.GetAttribute("href"));
        Assert.Contains("with the same trouble, 20 days later.", came.TextContent, StringComparison.Ordinal);
        using var live = (await OrderLive.OpenAsync(Services.GetRequiredService<OrderPageServices>(), _back.Number, work => work()))!;
        Assert.Equal($"order {_repair.Number}", Assert.Single(live.Assessment!.Causes.Single(c => c.Cause == "coil-failed" && c.At == Place.Cylinder(1)).Earlier).Order);
        var beside = Render<EarlierBeside>(p => p.AddCascadingValue(live));
        Assert.Contains("It went along.", beside.WaitForElement("details .cb-old").TextContent, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_car_without_an_earlier_repair_is_asked_nothing()
    {
        var other = await _shop.NewOrderAsync();
        Assert.Empty((await PartAsync(other)).Markup.Trim());
    }

    [Fact]
    public async Task Handing_over_as_fixed_without_a_reading_after_the_repair_asks_for_a_reason_that_stays()
    {
        await MoveAsync(_repair, OrderStage.RepairCheck);
        var refused = await _shop.Orders.MoveAsync(_repair.Id, OrderStage.HandedOver, "Ann", "", Guid.NewGuid());
        Assert.Equal(SaveOutcome.Refused, refused.Outcome);
        Assert.Contains("No reading was taken after the repair", refused.Message, StringComparison.Ordinal);
        await _shop.Orders.MoveAsync(_repair.Id, OrderStage.HandedOver, "Ann", "He could not wait.", Guid.NewGuid());
        Assert.Equal("He could not wait.", (await _shop.Orders.GetAsync(_repair.Id))!.Moves[^1].Reason);
        Assert.False((await _shop.Comebacks.CasesAsync(TimeZoneInfo.Utc, ComebackWindow.Usual)).Single(c => c.OrderId == _repair.Id).RepairChecked);
    }

    private Task<SaveResult> MoveAsync(RepairOrder order, OrderStage stage) => _shop.Orders.MoveAsync(order.Id, stage, "Ann", "asked for", Guid.NewGuid());

    private async Task<IRenderedComponent<ComebackPart>> PartAsync(RepairOrder order)
    {
        IRenderedComponent<ComebackPart>? part = null;
        var live = (await OrderLive.OpenAsync(Services.GetRequiredService<OrderPageServices>(), order.Number, work => part is null ? work() : part.InvokeAsync(work)))!;
        part = Render<ComebackPart>(p => p.AddCascadingValue(live));
        live.Changed += () => part.Render();
        return part;
    }

    private static Task PressAsync(IRenderedComponent<ComebackPart> part, string button)
    {
        part.WaitForElement("[role=group] button");
        return part.InvokeAsync(() => part.FindAll("[role=group] button").Single(b => b.TextContent == button).Click());
    }
}
