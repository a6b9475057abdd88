using ShopDiag.Storage.Orders;
using ShopDiag.Web.Orders;
using ShopDiag.Web.Saving;
using ShopDiag.Web.Tests.Support;

namespace ShopDiag.Web.Tests.Saving;

/// <summary>Entries of fields whose page is no longer open, against a real database.</summary>
public sealed class StrayDraftTests : PageTest, IAsyncLifetime
{
    private TestShop _shop = null!;

    public async ValueTask InitializeAsync() => _shop = await TestShop.OpenAsync();

    [Fact]
    public async Task It_is_saved_and_dealt_with()
    {
        var order = await _shop.NewOrderAsync((OrderField.ConcernText, "shakes"));
        var draft = Draft(order, OrderField.ConcernText, "shakes when cold", "shakes");
        Assert.Equal([draft.Key], await New().SaveAsync([draft]));
        Assert.Equal("shakes when cold", (await _shop.Orders.GetAsync(order.Id))!.ConcernText);
    }

    [Fact]
    public async Task A_conflict_saves_nothing_and_stays_with_the_tablet()
    {
        var order = await _shop.NewOrderAsync((OrderField.ConcernText, "written by somebody else meanwhile"));
        Assert.Empty(await New().SaveAsync([Draft(order, OrderField.ConcernText, "mine", "shakes")]));
        Assert.Equal("written by somebody else meanwhile", (await _shop.Orders.GetAsync(order.Id))!.ConcernText);
    }

    [Fact]
    public async Task Texts_of_the_screen_are_turned_into_the_stores()
    {
        var order = await _shop.NewOrderAsync();
        var draft = Draft(order, OrderField.PromisedAt, "2026-03-06T16:30", "");
        Assert.Equal([draft.Key], await New().SaveAsync([draft]));
        Assert.Equal(new DateTime(2026, 3, 6, 16, 30, 0, DateTimeKind.Utc), (await _shop.Orders.GetAsync(order.Id))!.PromisedAt);
    }

    [Theory]
    [InlineData("order:not-an-id:ConcernText")]
    [InlineData("order:00000000-0000-0000-0000-000000000001:NoSuchField")]
    [InlineData("order:00000000-0000-0000-0000-000000000001:engine:access-1")]
    [InlineData("shop:settings:name")]
    [InlineData("nonsense")]
    public async Task A_key_that_is_not_known_is_left_alone(string key) =>
        Assert.Empty(await New().SaveAsync([new StrayDraft(key, "x", null, Guid.NewGuid(), 1)]));

    ValueTask IAsyncDisposable.DisposeAsync() => _shop.DisposeAsync();

    private static StrayDraft Draft(RepairOrder order, OrderField field, string text, string before) =>
        new(OrderDrafts.Key(order.Id, field), text, before, Guid.NewGuid(), 1);

    private DraftReplay New() => new([new OrderDrafts(_shop.Orders, _shop.Shops, _shop.Time, new Tablet(Acting))]);
}
