using ShopDiag.Storage.Orders;
using ShopDiag.Storage.Tests.Writing;

namespace ShopDiag.Storage.Tests.Orders;

public sealed class RepetitionTests
{
    [Fact]
    public async Task The_same_order_id_opens_one_order_however_many_ask()
    {
        await using var shop = await TestShop.OpenAsync();
        var id = Guid.NewGuid();
        var opened = await Task.WhenAll(Enumerable.Range(0, 16).Select(_ => Task.Run(() => shop.Orders.OpenAsync(id, "Rosa"))));
        Assert.All(opened, o => Assert.Equal((id, 1001), (o.Id, o.Number)));
        Assert.Equal(1, shop.Scalar("SELECT count(*) FROM Orders"));
        Assert.Equal(1, shop.Scalar("SELECT count(*) FROM Customers"));
    }

    [Fact]
    public async Task A_repeated_command_answers_what_stands_there_now_and_does_not_undo_a_later_change()
    {
        await using var shop = await TestShop.OpenAsync();
        var order = await shop.OpenOrderAsync();
        var command = Guid.NewGuid();
        await shop.Orders.SetFieldAsync(order.Id, OrderField.Technician, "Lena", "", command, "Rosa");
        await shop.SetAsync(order, OrderField.Technician, "Marco");
        var again = await shop.Orders.SetFieldAsync(order.Id, OrderField.Technician, "Lena", "", command, "Rosa");
        Assert.Equal(new SaveResult(SaveOutcome.AlreadySaved, "Marco"), again);
        Assert.Equal("Marco", (await shop.ReadAsync(order)).Technician);
    }

    [Fact]
    public async Task A_command_that_was_refused_may_come_again()
    {
        await using var shop = await TestShop.OpenAsync();
        var order = await shop.OpenOrderAsync();
        var command = Guid.NewGuid();
        Assert.Equal(SaveOutcome.Refused, (await shop.Orders.SetFieldAsync(order.Id, OrderField.Odometer, "x", null, command, "Rosa")).Outcome);
        Assert.Equal(SaveOutcome.Saved, (await shop.Orders.SetFieldAsync(order.Id, OrderField.Odometer, "12", null, command, "Rosa")).Outcome);
    }

    [Fact]
    public async Task An_id_used_for_another_change_is_refused_rather_than_taken_for_a_repetition()
    {
        await using var shop = await TestShop.OpenAsync();
        var order = await shop.OpenOrderAsync();
        var command = Guid.NewGuid();
        await shop.Orders.SetFieldAsync(order.Id, OrderField.Technician, "Lena", null, command, "Rosa");
        var other = await shop.Orders.SetFieldAsync(order.Id, OrderField.VehiclePlate, "QHV 1", null, command, "Rosa");
        Assert.Equal(SaveOutcome.Refused, other.Outcome);
        await Assert.ThrowsAsync<ArgumentException>(() => shop.Orders.SetFieldAsync(order.Id, OrderField.VehiclePlate, "QHV 1", null, Guid.Empty, "Rosa"));
    }

    [Fact]
    public async Task The_same_reading_twice_in_one_batch_is_kept_once()
    {
        await using var shop = await TestShop.OpenAsync();
        var order = await shop.OpenOrderAsync();
        var reading = TestShop.Compression(2, 1200);
        var held = await HeldWriter.HoldAsync(shop.Writer);
        var waiting = Task.WhenAll(Enumerable.Range(0, 5).Select(_ => shop.Orders.AddReadingAsync(order.Id, reading)));
        await held.LetGoAsync();
        var answers = await waiting;
        Assert.Equal(1, answers.Count(a => a.Outcome == SaveOutcome.Saved));
        Assert.Equal(4, answers.Count(a => a.Outcome == SaveOutcome.AlreadySaved));
        Assert.All(answers, a => Assert.Equal("1", a.Current));
        Assert.Single((await shop.ReadAsync(order)).Readings);
    }

    [Fact]
    public async Task Sixteen_writers_that_repeat_each_other_leave_each_reading_and_move_once()
    {
        await using var shop = await TestShop.OpenAsync();
        var order = await shop.OpenOrderAsync();
        var readings = Enumerable.Range(0, 25).Select(i => TestShop.Compression(1 + (i % 4), 1000 + i)).ToArray();
        var move = Guid.NewGuid();
        await Task.WhenAll(Enumerable.Range(0, 16).Select(writer => Task.Run(async () =>
        {
            foreach (var i in Enumerable.Range(0, readings.Length))
            {
                await shop.Orders.AddReadingAsync(order.Id, readings[(i + writer) % readings.Length]);
            }

            await shop.Orders.MoveAsync(order.Id, OrderStage.InDiagnosis, "Lena", "", move);
        })));
        var kept = await shop.ReadAsync(order);
        Assert.Equal(readings.Select(r => r.Id).Order(), kept.Readings.Select(r => r.Id).Order());
        Assert.Equal(Enumerable.Range(1, readings.Length), kept.Readings.Select(r => r.Sequence));
        Assert.Equal([OrderStage.WrittenUp, OrderStage.InDiagnosis], kept.Moves.Select(m => m.Stage));
    }
}
