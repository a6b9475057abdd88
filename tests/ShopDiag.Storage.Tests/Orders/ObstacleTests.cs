using ShopDiag.Diagnosis;
using ShopDiag.Diagnosis.Workups;
using ShopDiag.Storage.Audit;
using ShopDiag.Storage.Orders;
using Microsoft.Extensions.DependencyInjection;

namespace ShopDiag.Storage.Tests.Orders;

/// <summary>Tests that cannot be taken on a car: said, said again, ended by a touch or by a reading, never deleted.</summary>
public sealed class ObstacleTests
{
    private static readonly Place Third = Place.Cylinder(3);

    [Fact]
    public async Task What_is_said_comes_back_tidied_and_stands_in_the_workup()
    {
        await using var shop = await TestShop.OpenAsync();
        var order = await OrderWithEngineAsync(shop);
        var said = Said("leak-down", Third, " no adapter\nfits\0 ");
        Assert.Equal(SaveOutcome.Saved, (await shop.Orders.AddObstacleAsync(order.Id, said)).Outcome);
        order = await shop.ReadAsync(order);
        var kept = Assert.Single(order.Obstacles);
        Assert.Equal((said.Id, "Rosa", shop.Clock.GetUtcNow().UtcDateTime, true), (kept.Id, kept.By, kept.SaidAt, kept.Stands));
        Assert.Equal(new Obstacle("leak-down", Third) { Why = "no adapter fits" }, kept.Obstacle);
        Assert.Equal([kept.Obstacle], order.ToWorkup(new())!.Obstacles);
        Assert.Empty(order.Readings);
    }

    [Fact]
    public async Task The_same_id_twice_is_kept_once_and_the_same_place_said_anew_takes_the_place_of_the_first()
    {
        await using var shop = await TestShop.OpenAsync();
        var order = await OrderWithEngineAsync(shop);
        var said = Said("leak-down", Third, "no adapter");
        await shop.Orders.AddObstacleAsync(order.Id, said);
        Assert.Equal(SaveOutcome.AlreadySaved, (await shop.Orders.AddObstacleAsync(order.Id, said with { Obstacle = said.Obstacle with { Why = "other words" } })).Outcome);
        Assert.Equal("no adapter", Assert.Single((await shop.ReadAsync(order)).Obstacles).Obstacle.Why);

        shop.Clock.Advance(TimeSpan.FromMinutes(5));
        await shop.Orders.AddObstacleAsync(order.Id, Said("leak-down", Third, "thread stripped"));
        await shop.Orders.AddObstacleAsync(order.Id, Said("leak-down", Place.Engine, ""));
        Assert.Equal([("no adapter", false), ("thread stripped", true), ("", true)], (await shop.ReadAsync(order)).Obstacles.Select(o => (o.Obstacle.Why, o.Stands)).OrderBy(o => o.Why.Length == 0).ThenBy(o => o.Stands));
    }

    [Fact]
    public async Task It_can_be_taken_after_all_ends_it_and_says_who_and_when()
    {
        await using var shop = await TestShop.OpenAsync();
        var order = await OrderWithEngineAsync(shop);
        var said = Said("leak-down", Third, "no adapter");
        await shop.Orders.AddObstacleAsync(order.Id, said);
        shop.Clock.Advance(TimeSpan.FromMinutes(7));
        Assert.Equal(SaveOutcome.Saved, (await shop.Orders.EndObstacleAsync(order.Id, said.Id, Guid.NewGuid(), "Lena")).Outcome);
        shop.Clock.Advance(TimeSpan.FromMinutes(7));
        Assert.Equal(SaveOutcome.AlreadySaved, (await shop.Orders.EndObstacleAsync(order.Id, said.Id, Guid.NewGuid(), "Marco")).Outcome);
        order = await shop.ReadAsync(order);
        var kept = Assert.Single(order.Obstacles);
        Assert.Equal(("Rosa", "Lena", kept.SaidAt.AddMinutes(7)), (kept.By, kept.EndedBy, kept.EndedAt!.Value));
        Assert.Empty(order.ToWorkup(new())!.Obstacles);
        // What comes late from a tablet's journal does not make it stand again.
        Assert.Equal(SaveOutcome.AlreadySaved, (await shop.Orders.AddObstacleAsync(order.Id, said)).Outcome);
        Assert.False((await shop.ReadAsync(order)).Obstacles.Single().Stands);
    }

    public static TheoryData<int, int, bool> Reads => new() { { 3, 3, true }, { 3, 2, false }, { 0, 2, true } };

    [Theory]
    [MemberData(nameof(Reads))]
    public async Task A_reading_there_or_anywhere_for_the_whole_car_ends_it(int saidAt, int readAt, bool ends)
    {
        await using var shop = await TestShop.OpenAsync();
        var order = await OrderWithEngineAsync(shop);
        var at = saidAt == 0 ? Place.Engine : Place.Cylinder(saidAt);
        await shop.Orders.AddObstacleAsync(order.Id, Said("compression-dry", at, ""));
        await shop.Orders.AddObstacleAsync(order.Id, Said("leak-down", at, ""));
        await shop.Orders.AddReadingAsync(order.Id, TestShop.Compression(readAt, 1200));
        var kept = (await shop.ReadAsync(order)).Obstacles;
        Assert.Equal(!ends, kept.Single(o => o.Obstacle.Test == "compression-dry").Stands);
        Assert.True(kept.Single(o => o.Obstacle.Test == "leak-down").Stands);
    }

    [Fact]
    public async Task Taking_a_reading_back_or_one_that_is_refused_ends_nothing()
    {
        await using var shop = await TestShop.OpenAsync();
        var order = await OrderWithEngineAsync(shop);
        var reading = TestShop.Compression(3, 1200);
        await shop.Orders.AddReadingAsync(order.Id, reading);
        await shop.Orders.AddObstacleAsync(order.Id, Said("compression-dry", Third, "thread stripped since"));
        await shop.Orders.AddReadingAsync(order.Id, TestShop.Compression(3, 1200, supersedes: reading.Id) with { Withdrawn = true });
        Assert.Equal(SaveOutcome.Refused, (await shop.Orders.AddReadingAsync(order.Id, TestShop.Compression(3, double.NaN))).Outcome);
        Assert.True((await shop.ReadAsync(order)).Obstacles.Single().Stands);
    }

    [Fact]
    public async Task What_makes_no_sense_is_refused_in_plain_words()
    {
        await using var shop = await TestShop.OpenAsync();
        var order = await OrderWithEngineAsync(shop);
        var other = await shop.OpenOrderAsync();
        var elsewhere = Said("leak-down", Place.Engine, "");
        await shop.Orders.AddObstacleAsync(other.Id, elsewhere);
        var refused = new (NewObstacle Said, string Answer)[]
        {
            (Said("leak-down", Place.Cylinder(6), ""), "no cylinder 6"),
            (Said(" ", Third, ""), "which test"),
            (Said("leak-down", Third, new string('x', StoredObstacle.LongestWhy + 1)), "200 letters; these are 201"),
            (elsewhere, "another order"),
        };
        foreach (var (said, answer) in refused)
        {
            var result = await shop.Orders.AddObstacleAsync(order.Id, said);
            Assert.Equal(SaveOutcome.Refused, result.Outcome);
            Assert.Contains(answer, result.Message, StringComparison.Ordinal);
        }

        Assert.Empty((await shop.ReadAsync(order)).Obstacles);
        Assert.Equal(SaveOutcome.Saved, (await shop.Orders.AddObstacleAsync(order.Id, Said("leak-down", Third, new string('x', StoredObstacle.LongestWhy)))).Outcome);
        Assert.Contains("no such order", (await shop.Orders.AddObstacleAsync(Guid.NewGuid(), Said("leak-down", Third, ""))).Message, StringComparison.Ordinal);
        Assert.Equal(SaveOutcome.Refused, (await shop.Orders.EndObstacleAsync(order.Id, elsewhere.Id, Guid.NewGuid(), "Rosa")).Outcome);
        Assert.True((await shop.ReadAsync(other)).Obstacles.Single().Stands);
        await Assert.ThrowsAsync<ArgumentException>(() => shop.Orders.AddObstacleAsync(order.Id, Said("leak-down", Third, "") with { Id = Guid.Empty }));
        await Assert.ThrowsAsync<ArgumentException>(() => shop.Orders.EndObstacleAsync(order.Id, elsewhere.Id, Guid.Empty, "Rosa"));
    }

    [Fact]
    public async Task The_workup_passes_over_what_does_not_fit_the_engine_or_a_test_that_there_is_no_more()
    {
        await using var shop = await TestShop.OpenAsync();
        var order = await shop.OpenOrderAsync();
        await shop.Orders.AddObstacleAsync(order.Id, Said("leak-down", Place.Cylinder(6), ""));
        await shop.Orders.AddObstacleAsync(order.Id, Said("a-test-of-old", Place.Engine, ""));
        await shop.Orders.AddObstacleAsync(order.Id, Said("leak-down", Third, ""));
        Assert.Equal(SaveOutcome.Saved, (await shop.Orders.SetEngineAsync(order.Id, TestShop.Four, "Four in line", Guid.NewGuid(), "Rosa")).Outcome);
        order = await shop.ReadAsync(order);
        Assert.Equal(3, order.Obstacles.Length);
        Assert.Equal([new Obstacle("leak-down", Third)], order.ToWorkup(new())!.Obstacles);
    }

    [Fact]
    public async Task Pages_are_told_and_the_record_names_what_was_said_and_ended_without_the_free_words()
    {
        await using var shop = await TestShop.OpenAsync();
        var order = await OrderWithEngineAsync(shop);
        var told = 0;
        using var subscription = shop.Bus.Subscribe(order.Id, _ => told++);
        var said = Said("compression-dry", Third, "telltale");
        await shop.Orders.AddObstacleAsync(order.Id, said);
        await shop.Orders.AddObstacleAsync(order.Id, said);
        await shop.Orders.EndObstacleAsync(order.Id, said.Id, Guid.NewGuid(), "Lena");
        Assert.Equal(2, told);
        await shop.Orders.AddObstacleAsync(order.Id, Said("compression-dry", Third, "telltale"));
        await shop.Orders.AddReadingAsync(order.Id, TestShop.Compression(3, 1200));
        var record = await shop.Services.GetRequiredService<AuditStore>().OfOrderAsync(order.Id, null, 100);
        Assert.Equal(
            [("add obstacle", "Rosa"), ("end obstacle", "Lena"), ("add obstacle", "Rosa"), ("add reading", "Rosa"), ("end obstacle", "Rosa")],
            record.OrderBy(e => e.Sequence).Skip(2).Select(e => (e.What, e.Who)));
        Assert.All(record.Where(e => e.What.EndsWith("obstacle", StringComparison.Ordinal)), e => Assert.Equal("compression-dry, cylinder 3", e.After));
    }

    [Theory]
    [InlineData("UPDATE Obstacles SET Why = 'other'", "add a row that corrects them")]
    [InlineData("UPDATE Obstacles SET SaidAt = '2026-01-01 00:00:00'", "add a row that corrects them")]
    [InlineData("DELETE FROM Obstacles", "add a row that corrects them")]
    [InlineData("UPDATE Obstacles SET EndedAt = '2026-03-02 09:00:00'", "CHECK constraint failed")]
    public async Task The_database_itself_lets_nothing_be_entered_later_but_the_whole_end(string sql, string refusal)
    {
        await using var shop = await TestShop.OpenAsync();
        var order = await OrderWithEngineAsync(shop);
        await shop.Orders.AddObstacleAsync(order.Id, Said("leak-down", Third, ""));
        Assert.Contains(refusal, Assert.Throws<Microsoft.Data.Sqlite.SqliteException>(() => shop.Run(sql)).Message, StringComparison.Ordinal);
    }

    private static NewObstacle Said(string test, Place at, string why) => new(Guid.NewGuid(), new Obstacle(test, at) { Why = why }, "Rosa");

    private static async Task<RepairOrder> OrderWithEngineAsync(TestShop shop)
    {
        var order = await shop.OpenOrderAsync();
        await shop.Orders.SetEngineAsync(order.Id, TestShop.Four, "Four in line", Guid.NewGuid(), "Rosa");
        return order;
    }
}
