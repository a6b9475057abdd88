using ShopDiag.Estimates;
using ShopDiag.Storage.Estimates;
using ShopDiag.Storage.Orders;

namespace ShopDiag.Storage.Tests.Estimates;

/// <summary>Parts on their way, in the demo shop: order 1009 waits for two exhaust valves that are ordered.</summary>
public sealed class PartStoreTests
{
    [Fact]
    public async Task Some_pieces_move_on_and_the_others_stay_as_a_part_of_their_own()
    {
        await using var shop = await DemoAsync();
        var valves = await ValvesAsync(shop);
        var moved = await Parts(shop).MoveAsync(valves.Id, PartState.Received, 1, Guid.NewGuid(), "Ruth", PartState.Ordered);

        Assert.Equal((SaveOutcome.Saved, nameof(PartState.Received)), (moved.Outcome, moved.Current));
        Assert.Equal([(PartState.Received, 1), (PartState.Ordered, 1)], (await AllAsync(shop, valves.LineId)).Select(p => (p.State, p.Quantity)));
        Assert.Equal([(PartState.Received, "Ruth")], (await AllAsync(shop, valves.LineId))[0].Moves.TakeLast(1).Select(m => (m.State, m.By)));
        Assert.Contains((await Parts(shop).MissingAsync()), p => p.Part.LineId == valves.LineId && p.Part.Quantity == 1);
        Assert.Contains((await Parts(shop).ReceivedAsync()), p => p.Part.Id == valves.Id && (p.OrderNumber, p.Plate) == (1009, "HLB 5300"));
    }

    [Fact]
    public async Task A_step_taken_back_makes_the_pieces_one_again_and_stays_on_record()
    {
        await using var shop = await DemoAsync();
        var (valves, step) = (await ValvesAsync(shop), Guid.NewGuid());
        await Parts(shop).MoveAsync(valves.Id, PartState.Received, 1, step, "Ruth");
        var back = await Parts(shop).TakeBackAsync(valves.Id, step, PartState.Received, Guid.NewGuid(), "Ruth");

        Assert.Equal(SaveOutcome.Saved, back.Outcome);
        var whole = Assert.Single(await AllAsync(shop, valves.LineId));
        Assert.Equal((valves.Id, PartState.Ordered, 2), (whole.Id, whole.State, whole.Quantity));
        Assert.Equal([PartState.Wanted, PartState.Ordered, PartState.Received, PartState.Ordered], whole.Moves.Select(m => m.State));
    }

    [Fact]
    public async Task Pieces_that_something_happened_to_meanwhile_stay_apart()
    {
        await using var shop = await DemoAsync();
        var (valves, step) = (await ValvesAsync(shop), Guid.NewGuid());
        await Parts(shop).MoveAsync(valves.Id, PartState.Received, 1, step, "Ruth");
        var rest = (await AllAsync(shop, valves.LineId)).Single(p => p.Id != valves.Id);
        await Parts(shop).SetFieldAsync(rest.Id, PartField.ExpectedOn, "2026-03-09", null, Guid.NewGuid(), "Ruth");
        await Parts(shop).TakeBackAsync(valves.Id, step, PartState.Received, Guid.NewGuid(), "Ruth");

        Assert.Equal([(PartState.Ordered, 1), (PartState.Ordered, 1)], (await AllAsync(shop, valves.LineId)).Select(p => (p.State, p.Quantity)));
    }

    [Fact]
    public async Task A_part_that_somebody_moved_meanwhile_is_a_conflict_and_stays_where_it_is()
    {
        await using var shop = await DemoAsync();
        var (valves, step) = (await ValvesAsync(shop), Guid.NewGuid());
        await Parts(shop).MoveAsync(valves.Id, PartState.Received, 2, step, "Ruth", PartState.Ordered);
        await Parts(shop).MoveAsync(valves.Id, PartState.Fitted, 2, Guid.NewGuid(), "Marco", PartState.Received);

        Assert.Equal(SaveOutcome.Conflict, (await Parts(shop).MoveAsync(valves.Id, PartState.Wanted, 2, Guid.NewGuid(), "Ruth", PartState.Ordered)).Outcome);
        Assert.Equal(SaveOutcome.Conflict, (await Parts(shop).TakeBackAsync(valves.Id, step, PartState.Received, Guid.NewGuid(), "Ruth")).Outcome);
        Assert.Equal(PartState.Fitted, Assert.Single(await AllAsync(shop, valves.LineId)).State);
        Assert.Equal(PartState.Fitted, Assert.Single(await Parts(shop).GetAsync([valves.Id])).Part.State);
    }

    [Fact]
    public async Task A_step_that_comes_again_has_its_effect_once()
    {
        await using var shop = await DemoAsync();
        var (valves, step, back) = (await ValvesAsync(shop), Guid.NewGuid(), Guid.NewGuid());
        for (var i = 0; i < 2; i++)
        {
            var moved = await Parts(shop).MoveAsync(valves.Id, PartState.Received, 1, step, "Ruth", PartState.Ordered);
            Assert.Equal(i == 0 ? SaveOutcome.Saved : SaveOutcome.AlreadySaved, moved.Outcome);
        }

        Assert.Equal(2, (await AllAsync(shop, valves.LineId)).Sum(p => p.Quantity));
        for (var i = 0; i < 2; i++)
        {
            var taken = await Parts(shop).TakeBackAsync(valves.Id, step, PartState.Received, back, "Ruth");
            Assert.Equal(i == 0 ? SaveOutcome.Saved : SaveOutcome.AlreadySaved, taken.Outcome);
        }

        Assert.Equal(2, Assert.Single(await AllAsync(shop, valves.LineId)).Quantity);
    }

    [Theory]
    [InlineData(0)]
    [InlineData(3)]
    [InlineData(-1)]
    public async Task No_more_pieces_move_than_there_are(int pieces)
    {
        await using var shop = await DemoAsync();
        var valves = await ValvesAsync(shop);
        Assert.Equal(SaveOutcome.Refused, (await Parts(shop).MoveAsync(valves.Id, PartState.Received, pieces, Guid.NewGuid(), "Ruth")).Outcome);
    }

    private static PartStore Parts(TestShop shop) => (PartStore)shop.Services.GetService(typeof(PartStore))!;

    private static async Task<PartOnOrder> ValvesAsync(TestShop shop) => (await shop.Orders.GetByNumberAsync(1009))!.Parts.Single(p => p.Text == "Exhaust valve");

    private static async Task<PartOnOrder[]> AllAsync(TestShop shop, Guid line) => [.. (await shop.Orders.GetByNumberAsync(1009))!.Parts.Where(p => p.LineId == line)];

    private static async Task<TestShop> DemoAsync()
    {
        var shop = await TestShop.OpenAsync();
        await shop.Shop.LoadDemoAsync();
        return shop;
    }
}
