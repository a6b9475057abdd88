using System.Collections.Immutable;
using ShopDiag.Diagnosis;
using ShopDiag.Diagnosis.BenchTests;
using ShopDiag.Storage.Orders;

namespace ShopDiag.Storage.Tests.Orders;

public sealed class ReadingTests
{
    [Fact]
    public async Task A_reading_comes_back_as_it_was_taken()
    {
        await using var shop = await TestShop.OpenAsync();
        var order = await shop.OpenOrderAsync();
        var taken = new NewReading
        {
            Id = Guid.NewGuid(),
            Reading = new Reading
            {
                Test = "coil-swap",
                At = Place.Cylinder(4),
                Value = new([KeyValuePair.Create("swappedWith", FieldValue.Of(1.0)), KeyValuePair.Create("misfireMovedTo", FieldValue.Null)]),
                Stage = Stage.After,
                Warm = false,
                TakenAt = new DateTimeOffset(2026, 3, 2, 9, 15, 30, 123, TimeSpan.FromHours(-5)),
                By = "Lena",
                Note = "Second try.\nConnector was loose.",
            },
        };
        Assert.Equal(new SaveResult(SaveOutcome.Saved, "1"), await shop.Orders.AddReadingAsync(order.Id, taken));
        var kept = Assert.Single((await shop.ReadAsync(order)).Readings);
        Assert.Equal((taken.Id, 1, false, false), (kept.Id, kept.Sequence, kept.Superseded, kept.Withdrawn));
        Assert.Equal(taken.Reading with { Value = kept.Reading.Value }, kept.Reading);
        Assert.Equal(taken.Reading.TakenAt!.Value.Offset, kept.Reading.TakenAt!.Value.Offset);
        Assert.Equal(1, kept.Reading.Value.Number("swappedWith"));
        Assert.True(kept.Reading.Value.Has("misfireMovedTo"));
        Assert.Empty(kept.Reading.Value.Numbers("misfireMovedTo"));
    }

    [Fact]
    public async Task A_correction_supersedes_and_the_corrected_reading_stays_on_record()
    {
        await using var shop = await TestShop.OpenAsync();
        var order = await OrderWithEngineAsync(shop);
        var wrong = TestShop.Compression(2, 120);
        await shop.Orders.AddReadingAsync(order.Id, wrong);
        await shop.Orders.AddReadingAsync(order.Id, TestShop.Compression(2, 1200, supersedes: wrong.Id));
        order = await shop.ReadAsync(order);
        Assert.Equal([true, false], order.Readings.Select(r => r.Superseded));
        Assert.Equal([1200], Counting(order));
    }

    [Fact]
    public async Task Taking_a_reading_back_leaves_neither_it_nor_the_taking_back_to_count()
    {
        await using var shop = await TestShop.OpenAsync();
        var order = await OrderWithEngineAsync(shop);
        var wrong = TestShop.Compression(2, 120);
        await shop.Orders.AddReadingAsync(order.Id, wrong);
        await shop.Orders.AddReadingAsync(order.Id, TestShop.Compression(3, 1180));
        await shop.Orders.AddReadingAsync(order.Id, TestShop.Compression(2, 120, supersedes: wrong.Id) with { Withdrawn = true });
        order = await shop.ReadAsync(order);
        Assert.Equal(3, order.Readings.Length);
        Assert.Equal([1180], Counting(order));
    }

    [Fact]
    public async Task Two_tablets_that_correct_the_same_reading_are_both_kept_and_the_second_is_told()
    {
        await using var shop = await TestShop.OpenAsync();
        var order = await OrderWithEngineAsync(shop);
        var wrong = TestShop.Compression(2, 120);
        await shop.Orders.AddReadingAsync(order.Id, wrong);
        var answers = await Task.WhenAll(
            Task.Run(() => shop.Orders.AddReadingAsync(order.Id, TestShop.Compression(2, 1200, supersedes: wrong.Id))),
            Task.Run(() => shop.Orders.AddReadingAsync(order.Id, TestShop.Compression(2, 1210, supersedes: wrong.Id))));
        Assert.All(answers, a => Assert.Equal(SaveOutcome.Saved, a.Outcome));
        Assert.Equal(1, answers.Count(a => a.Message.Contains("further trial", StringComparison.Ordinal)));
        Assert.Equal([1200, 1210], Counting(await shop.ReadAsync(order)).Order());
    }

    [Fact]
    public async Task A_reading_that_makes_no_sense_is_refused()
    {
        await using var shop = await TestShop.OpenAsync();
        var order = await OrderWithEngineAsync(shop);
        var other = await shop.OpenOrderAsync();
        var elsewhere = TestShop.Compression(1, 1100);
        await shop.Orders.AddReadingAsync(other.Id, elsewhere);
        var refused = new (NewReading Reading, string Said)[]
        {
            (TestShop.Compression(2, double.NaN), "numbers"),
            (TestShop.Compression(2, double.PositiveInfinity), "numbers"),
            (TestShop.Compression(6, 1200), "no cylinder 6"),
            (TestShop.Compression(2, 1200, supersedes: Guid.NewGuid()), "not on this order"),
            (TestShop.Compression(2, 1200, supersedes: elsewhere.Id), "not on this order"),
            (TestShop.Compression(2, 1200) with { Withdrawn = true }, "say which one"),
            (TestShop.Compression(2, 1200) with { Id = elsewhere.Id }, "another order"),
        };
        foreach (var (reading, said) in refused)
        {
            var answer = await shop.Orders.AddReadingAsync(order.Id, reading);
            Assert.Equal(SaveOutcome.Refused, answer.Outcome);
            Assert.Contains(said, answer.Message, StringComparison.Ordinal);
        }

        Assert.Empty((await shop.ReadAsync(order)).Readings);
        Assert.Equal(SaveOutcome.Refused, (await shop.Orders.AddReadingAsync(Guid.NewGuid(), TestShop.Compression(1, 1))).Outcome);
    }

    private static async Task<RepairOrder> OrderWithEngineAsync(TestShop shop)
    {
        var order = await shop.OpenOrderAsync();
        await shop.Orders.SetEngineAsync(order.Id, TestShop.Four, "Four in line", Guid.NewGuid(), "Rosa");
        return order;
    }

    private static ImmutableArray<double> Counting(RepairOrder order) =>
        [.. order.ToWorkup(new())!.Readings.Select(r => r.Value.Number("kPa")!.Value)];
}
