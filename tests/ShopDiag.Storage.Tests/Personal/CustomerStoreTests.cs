using System.IO.Compression;
using System.Text;
using ShopDiag.Estimates;
using ShopDiag.Storage.Backups;
using ShopDiag.Storage.Comebacks;
using ShopDiag.Storage.Orders;
using Microsoft.Extensions.DependencyInjection;

namespace ShopDiag.Storage.Tests.Personal;

public sealed class CustomerStoreTests
{
    // Words that stand nowhere in the demo shop or the program.
    private static readonly string[] Traces = ["Quillfeather", "0177-4455", "quill@example", "ZZQ 909", "1HGCM82633A004352", "telltale"];

    [Fact]
    public async Task After_erasing_nothing_of_the_person_is_left_in_the_folder_and_the_work_is()
    {
        await using var shop = await TestShop.OpenAsync();
        await shop.Shop.LoadDemoAsync();
        var (order, photo) = await HandedOverAsync(shop);
        shop.Run("PRAGMA wal_checkpoint(TRUNCATE)");
        Assert.Equal(Traces.Length, Traces.Count(t => IsInFolder(shop, t)));
        var before = await shop.ReadAsync(order);

        Assert.Equal(SaveOutcome.Saved, (await shop.Customers.EraseAsync(before.Customer.Id, "Owner")).Outcome);
        Assert.DoesNotContain(Traces, t => IsInFolder(shop, t));
        Assert.False(File.Exists(shop.PhotoFile(photo)));

        var after = await shop.ReadAsync(order);
        Assert.Equal(
            (before.Number, before.Stage, before.CreatedAt, before.Odometer, before.Vehicle.Description, before.Vehicle.Id),
            (after.Number, after.Stage, after.CreatedAt, after.Odometer, after.Vehicle.Description, after.Vehicle.Id));
        Assert.Equal(before.Readings.Select(r => (r.Id, r.Reading.Test, string.Join(";", r.Reading.Value.Fields))), after.Readings.Select(r => (r.Id, r.Reading.Test, string.Join(";", r.Reading.Value.Fields))));
        Assert.Equal(before.Obstacles.Select(o => o with { Obstacle = o.Obstacle with { Why = "" } }), after.Obstacles);
        Assert.Equal(before.Moves.Select(m => (m.Stage, m.At)), after.Moves.Select(m => (m.Stage, m.At)));
        Assert.Equal(("Erased customer", "", ""), (after.Customer.Name, after.Customer.Phone, after.Customer.Email));
        var comebacks = await shop.Services.GetRequiredService<ComebackStore>().CasesAsync(TimeZoneInfo.Utc, new(90, null));
        Assert.Contains(comebacks, c => c.OrderId == order.Id);
        Assert.True((await shop.Backups.CheckAsync()).IsSound);
        // The guards are back.
        Assert.Throws<Microsoft.Data.Sqlite.SqliteException>(() => shop.Run("UPDATE Readings SET Note = 'x'"));
        Assert.Throws<Microsoft.Data.Sqlite.SqliteException>(() => shop.Run("UPDATE Obstacles SET Why = 'x'"));
    }

    [Fact]
    public async Task An_older_backup_put_back_does_not_bring_the_person_back()
    {
        await using var shop = await TestShop.OpenAsync();
        await shop.Shop.LoadDemoAsync();
        var (order, _) = await HandedOverAsync(shop);
        var backup = await shop.Backups.MakeAsync(BackupKind.Nightly);
        var customer = (await shop.ReadAsync(order)).Customer.Id;
        await shop.Customers.EraseAsync(customer, "Owner");
        await shop.Backups.RestoreAsync(backup.Name);
        Assert.Equal("Erased customer", (await shop.ReadAsync(order)).Customer.Name);
        Assert.NotNull((await shop.Customers.GetAsync(customer))!.ErasedAt);
        Assert.True((await shop.Backups.CheckAsync()).IsSound);
    }

    [Fact]
    public async Task The_file_for_a_customer_holds_all_of_theirs_and_nothing_of_others()
    {
        await using var shop = await TestShop.OpenAsync();
        await shop.Shop.LoadDemoAsync();
        var (order, photo) = await HandedOverAsync(shop);
        using var bytes = new MemoryStream();
        using (var zip = new ZipArchive(bytes, ZipArchiveMode.Create, leaveOpen: true))
        {
            Assert.True(shop.Customers.Export((await shop.ReadAsync(order)).Customer.Id, zip));
        }

        using var read = new ZipArchive(bytes);
        using var text = new StreamReader(read.GetEntry("customer.jsonl")!.Open());
        var lines = await text.ReadToEndAsync();
        Assert.All(Traces, t => Assert.Contains(t, lines, StringComparison.Ordinal));
        Assert.NotNull(read.GetEntry($"photos/{photo:N}.jpg"));
        foreach (var other in (await shop.Orders.OpenOrdersAsync()).Where(o => o.Id != order.Id && o.CustomerName.Length > 0))
        {
            Assert.DoesNotContain(other.CustomerName, lines, StringComparison.Ordinal);
            Assert.DoesNotContain(other.Id.ToString().ToUpperInvariant(), lines, StringComparison.Ordinal);
        }

        using var none = new ZipArchive(new MemoryStream(), ZipArchiveMode.Create);
        Assert.False(shop.Customers.Export(Guid.NewGuid(), none));
    }

    [Fact]
    public async Task A_customer_with_an_open_order_is_not_erased()
    {
        await using var shop = await TestShop.OpenAsync();
        var order = await shop.OpenOrderAsync();
        await shop.SetAsync(order, OrderField.CustomerName, "Rita");
        var result = await shop.Customers.EraseAsync((await shop.ReadAsync(order)).Customer.Id, "Owner");
        Assert.Equal(SaveOutcome.Refused, result.Outcome);
        Assert.Contains("still open", result.Message, StringComparison.Ordinal);
        Assert.Equal("Rita", (await shop.ReadAsync(order)).Customer.Name);
    }

    [Fact]
    public async Task A_car_that_somebody_else_has_now_keeps_its_plate()
    {
        await using var shop = await TestShop.OpenAsync();
        var (order, _) = await HandedOverAsync(shop);
        var seller = (await shop.ReadAsync(order)).Customer.Id;
        // The car is sold: the same vehicle on an order of another customer.
        shop.Run($"INSERT INTO Customers VALUES ('BUYER', 'Bo', '', ''); UPDATE Vehicles SET CustomerId = 'BUYER' WHERE Plate = 'ZZQ 909'".Replace("BUYER", Guid.NewGuid().ToString().ToUpperInvariant(), StringComparison.Ordinal));
        await shop.Customers.EraseAsync(seller, "Owner");
        Assert.Equal("ZZQ 909", (await shop.ReadAsync(order)).Vehicle.Plate);
    }

    [Fact]
    public async Task Customers_are_erased_by_themselves_once_their_time_is_over_and_never_when_none_is_set()
    {
        await using var shop = await TestShop.OpenAsync();
        var (old, _) = await HandedOverAsync(shop);
        shop.Clock.Advance(TimeSpan.FromDays(365 * 2));
        var open = await shop.OpenOrderAsync();
        await shop.SetAsync(open, OrderField.CustomerName, "Still here");
        Assert.Equal(0, await shop.Customers.EraseDueAsync(null));
        Assert.Equal(0, await shop.Customers.EraseDueAsync(3));
        shop.Clock.Advance(TimeSpan.FromDays(366 * 2));
        Assert.Equal(1, await shop.Customers.EraseDueAsync(3));
        Assert.Equal(("Erased customer", "Still here"), ((await shop.ReadAsync(old)).Customer.Name, (await shop.ReadAsync(open)).Customer.Name));
        Assert.Equal(0, await shop.Customers.EraseDueAsync(3));
    }

    [Theory]
    [InlineData("quillfeather")]
    [InlineData("ZZQ-909")]
    [InlineData("01774455")]
    [InlineData("quill@")]
    [InlineData("1001")]
    public async Task A_customer_is_found_by_what_they_would_say(string text)
    {
        await using var shop = await TestShop.OpenAsync();
        var (order, _) = await HandedOverAsync(shop);
        var found = Assert.Single(await shop.Customers.FindAsync(text));
        Assert.Equal((await shop.ReadAsync(order)).Customer.Id, found.Id);
        Assert.Equal([1001], found.Orders);
        Assert.Empty(found.OpenOrders);
        Assert.Empty(await shop.Customers.FindAsync(""));
    }

    private static async Task<(RepairOrder Order, Guid Photo)> HandedOverAsync(TestShop shop)
    {
        var order = await shop.OpenOrderAsync();
        foreach (var (field, text) in new[]
        {
            (OrderField.CustomerName, "Ada Quillfeather"), (OrderField.CustomerPhone, "0177-4455"), (OrderField.CustomerEmail, "quill@example.org"),
            (OrderField.VehiclePlate, "ZZQ 909"), (OrderField.VehicleVin, "1HGCM82633A004352"), (OrderField.VehicleDescription, "a grey car"), (OrderField.Odometer, "120000"),
            (OrderField.ConcernText, "telltale in the concern"), (OrderField.WrittenConcern, "telltale"), (OrderField.WrittenCause, "telltale"), (OrderField.WrittenCorrection, "telltale"),
        })
        {
            Assert.Equal(SaveOutcome.Saved, (await shop.SetAsync(order, field, text)).Outcome);
        }

        await shop.Orders.SetEngineAsync(order.Id, TestShop.Four, "Four", Guid.NewGuid(), "Rosa");
        var reading = TestShop.Compression(1, 1200);
        await shop.Orders.AddReadingAsync(order.Id, reading with { Reading = reading.Reading with { Note = "telltale note" } });
        await shop.Orders.AddObstacleAsync(order.Id, new(Guid.NewGuid(), new("leak-down", Diagnosis.Place.Cylinder(3)) { Why = "telltale why" }, "Rosa"));
        var photo = await shop.AddPhotoAsync(order);
        await shop.Photos.SetCaptionAsync(photo, "telltale caption", null, Guid.NewGuid(), "Rosa");
        shop.Run($"INSERT INTO Approvals (Id, OrderId, Sequence, At, By, Person, Way, Contact, Note, DecisionsJson, SignatureJson, OldPartsBack, Terms) VALUES ('{Guid.NewGuid().ToString().ToUpperInvariant()}', '{order.Id.ToString().ToUpperInvariant()}', 1, '2026-03-02 08:00:00', 'Rosa', 'Ada Quillfeather', '{ApprovalWay.Phone}', '0177-4455', 'telltale', '[]', '{{\"strokes\":[]}}', 0, '')");
        Assert.Equal(SaveOutcome.Saved, (await shop.Orders.MoveAsync(order.Id, OrderStage.HandedOver, "Rosa", "telltale reason", Guid.NewGuid())).Outcome);
        return ((await shop.ReadAsync(order)), photo);
    }

    private static bool IsInFolder(TestShop shop, string text) => Directory.GetFiles(shop.Folder, "*", SearchOption.AllDirectories)
        .Where(f => !f.EndsWith("shop.lock", StringComparison.Ordinal) && !f.EndsWith("-shm", StringComparison.Ordinal) && !f.StartsWith(shop.Backups.Folder, StringComparison.Ordinal))
        .Any(f => File.ReadAllBytes(f).AsSpan().IndexOf(Encoding.UTF8.GetBytes(text)) >= 0);
}
