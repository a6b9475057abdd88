using Microsoft.EntityFrameworkCore;
using ShopDiag.Storage.Orders;
using ShopDiag.Storage.Rows;
using ShopDiag.Storage.Writing;

namespace ShopDiag.Storage.Tests.Writing;

public sealed class WriteQueueTests
{
    [Fact]
    public async Task Commands_that_wait_together_share_one_commit_of_at_most_sixty_four()
    {
        await using var shop = await TestShop.OpenAsync();
        var before = shop.Writer.Commits;
        var held = await HeldWriter.HoldAsync(shop.Writer);
        var waiting = Enumerable.Range(0, WriteQueue.MaxBatch + 1).Select(i => shop.Writer.RunAsync(w => AddCustomerAsync(w, $"{i}"), default)).ToArray();
        Assert.DoesNotContain(waiting, w => w.IsCompleted);
        await held.LetGoAsync();
        await Task.WhenAll(waiting);
        // The command that held the writer, sixty-four, and the last one.
        Assert.Equal(before + 3, shop.Writer.Commits);
        Assert.Equal(WriteQueue.MaxBatch + 1, shop.Scalar("SELECT count(*) FROM Customers"));
    }

    [Fact]
    public async Task A_command_that_fails_fails_alone_and_leaves_nothing_behind()
    {
        await using var shop = await TestShop.OpenAsync();
        var held = await HeldWriter.HoldAsync(shop.Writer);
        var before = shop.Writer.RunAsync(w => AddCustomerAsync(w, "before"), default);
        var throws = shop.Writer.RunAsync<bool>(
            async w =>
            {
                await AddCustomerAsync(w, "half done");
                await w.Db.SaveChangesAsync();
                throw new InvalidOperationException("on purpose");
            },
            default);
        var refusedByTheDatabase = shop.Writer.RunAsync(
            async w =>
            {
                await AddCustomerAsync(w, "half done");
                w.Db.Vehicles.Add(new VehicleRow { Id = Guid.NewGuid(), CustomerId = Guid.NewGuid() });
                return true;
            },
            default);
        var after = shop.Writer.RunAsync(w => AddCustomerAsync(w, "after"), default);
        await held.LetGoAsync();

        Assert.True(await before);
        Assert.Equal("on purpose", (await Assert.ThrowsAsync<InvalidOperationException>(() => throws)).Message);
        await Assert.ThrowsAsync<DbUpdateException>(() => refusedByTheDatabase);
        Assert.True(await after);
        Assert.Equal("after,before", shop.Text("SELECT group_concat(Name, ',') FROM (SELECT Name FROM Customers ORDER BY Name)"));
    }

    [Fact]
    public async Task A_batch_that_cannot_be_committed_is_told_to_everyone_in_it_and_the_writer_goes_on()
    {
        await using var shop = await TestShop.OpenAsync();
        var held = await HeldWriter.HoldAsync(shop.Writer);
        var good = shop.Writer.RunAsync(w => AddCustomerAsync(w, "lost with the batch"), default);
        var breaks = shop.Writer.RunAsync(
            async w =>
            {
                // What SQLite does by itself when the disk is full: the whole transaction is gone.
                await w.Db.Database.ExecuteSqlRawAsync("ROLLBACK");
                return true;
            },
            default);
        await held.LetGoAsync();
        await Assert.ThrowsAnyAsync<Exception>(() => good);
        await Assert.ThrowsAnyAsync<Exception>(() => breaks);
        Assert.True(await shop.Writer.RunAsync(w => AddCustomerAsync(w, "next"), default));
        Assert.Equal("next", shop.Text("SELECT group_concat(Name, ',') FROM Customers"));
    }

    [Fact]
    public async Task A_command_given_up_before_its_turn_has_no_effect()
    {
        await using var shop = await TestShop.OpenAsync();
        using var cancel = new CancellationTokenSource();
        var held = await HeldWriter.HoldAsync(shop.Writer);
        var givenUp = shop.Writer.RunAsync(w => AddCustomerAsync(w, "given up"), cancel.Token);
        await cancel.CancelAsync();
        await held.LetGoAsync();
        await Assert.ThrowsAnyAsync<OperationCanceledException>(() => givenUp);
        Assert.True(await shop.Writer.RunAsync(w => AddCustomerAsync(w, "next"), default));
        Assert.Equal("next", shop.Text("SELECT group_concat(Name, ',') FROM Customers"));
    }

    [Fact]
    public async Task Closing_saves_what_is_still_waiting_and_refuses_what_comes_later()
    {
        var folder = TestShop.NewFolder();
        var shop = await TestShop.OpenAsync(folder);
        var (orders, order) = (shop.Orders, await shop.OpenOrderAsync());
        var held = await HeldWriter.HoldAsync(shop.Writer);
        var waiting = shop.SetAsync(order, OrderField.Technician, "Lena");
        var closing = Task.Run(async () => await shop.DisposeAsync());
        await held.LetGoAsync();
        Assert.Equal(SaveOutcome.Saved, (await waiting).Outcome);
        await closing;
        await Assert.ThrowsAsync<ObjectDisposedException>(() => orders.OpenAsync(Guid.NewGuid(), "Rosa"));
        await using (var again = await TestShop.OpenAsync(folder))
        {
            Assert.Equal("Lena", (await again.ReadAsync(order)).Technician);
        }

        Directory.Delete(folder, recursive: true);
    }

    [Fact]
    public async Task The_bus_is_told_after_the_change_can_be_read_and_only_of_changes()
    {
        await using var shop = await TestShop.OpenAsync();
        var (order, other) = (await shop.OpenOrderAsync(), await shop.OpenOrderAsync());
        var told = new List<string>();
        using var all = shop.Bus.Subscribe(null, id => told.Add(id == order.Id ? "all: it" : "all: other"));
        using var one = shop.Bus.Subscribe(order.Id, _ => told.Add("it says " + shop.Text("SELECT Technician FROM Orders WHERE Number = 1001")));
        using var broken = shop.Bus.Subscribe(null, _ => throw new InvalidOperationException("a page that is gone"));
        await shop.SetAsync(order, OrderField.Technician, "Lena");
        await shop.SetAsync(order, OrderField.Odometer, "not a number");
        await shop.SetAsync(other, OrderField.Technician, "Sam");
        Assert.Equal(["all: it", "all: other", "it says Lena"], told.Order());
        one.Dispose();
        await shop.SetAsync(order, OrderField.Technician, "Marco");
        Assert.Equal(4, told.Count);
    }

    private static Task<bool> AddCustomerAsync(WriteScope write, string name)
    {
        write.Db.Customers.Add(new CustomerRow { Id = Guid.NewGuid(), Name = name });
        return Task.FromResult(true);
    }
}
