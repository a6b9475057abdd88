using System.IO.Compression;
using System.Text;
using Microsoft.EntityFrameworkCore;
using ShopDiag.Storage.Data;
using ShopDiag.Storage.Orders;
using ShopDiag.Storage.Recordings;

namespace ShopDiag.Storage.Tests.Data;

public sealed class ShopDataTests : IDisposable
{
    private readonly string _file = TestShop.NewFolder() + ".zip";

    public void Dispose() => File.Delete(_file);

    [Fact]
    public async Task Out_in_to_an_empty_folder_and_out_again_gives_the_same_bytes()
    {
        await using var shop = await FullShopAsync();
        var first = await OutAsync(shop);
        await using var other = await TestShop.OpenAsync();
        other.Clock.Advance(TimeSpan.FromDays(3));
        var count = await other.Data.ImportAsync(_file);
        Assert.True(count.Rows > 300, $"only {count.Rows} rows");
        Assert.Equal(3, count.Files);
        Assert.Equal(first, await OutAsync(other));
        Assert.True((await other.Backups.CheckAsync()).IsSound);
        var (there, here) = ((await shop.Orders.GetByNumberAsync(1014))!.Obstacles, (await other.Orders.GetByNumberAsync(1014))!.Obstacles);
        Assert.Equal([false, true], here.Select(o => o.Stands).Order());
        Assert.Equal(there, here);
        // And it is a shop that works.
        Assert.Equal((await shop.Orders.OpenOrdersAsync()).Select(o => o.Number), (await other.Orders.OpenOrdersAsync()).Select(o => o.Number));
        Assert.Equal(1 + (await shop.Orders.OpenOrdersAsync()).Max(o => o.Number), (await other.OpenOrderAsync()).Number);
    }

    [Fact]
    public async Task Every_table_of_the_database_is_written_out()
    {
        await using var shop = await TestShop.OpenAsync();
        await using var db = shop.Context();
        var tables = RecordTable.All(db).Select(t => t.Name).Order(StringComparer.Ordinal);
        var there = shop.Text("SELECT json_group_array(name) FROM (SELECT name FROM pragma_table_list WHERE schema = 'main' AND type = 'table' AND name NOT LIKE 'sqlite!_%' ESCAPE '!' AND name NOT LIKE '!_!_EF%' ESCAPE '!' ORDER BY name)");
        // Made of others, and how people and programs come in here.
        string[] stay = ["Cases", "Devices", "People", "Tokens"];
        Assert.Equal(System.Text.Json.JsonSerializer.Deserialize<string[]>(there)!.Except(stay).Order(StringComparer.Ordinal), tables);
    }

    [Fact]
    public async Task Texts_of_every_kind_come_back_letter_by_letter()
    {
        await using var shop = await TestShop.OpenAsync();
        var order = await shop.OpenOrderAsync();
        const string Odd = "\"quoted\" \\ back \u2028 <b>&amp; 漢字 🚗 \t é e\u0301";
        await shop.SetAsync(order, OrderField.ConcernText, Odd);
        var kept = (await shop.ReadAsync(order)).ConcernText;
        await OutAsync(shop);
        await using var other = await TestShop.OpenAsync();
        await other.Data.ImportAsync(_file);
        Assert.Equal(kept, (await other.ReadAsync(order)).ConcernText);
    }

    [Fact]
    public async Task What_an_older_version_wrote_comes_in_and_up_to_date()
    {
        await using var shop = await TestShop.OpenAsync();
        var order = Guid.NewGuid().ToString().ToUpperInvariant();
        var person = Guid.NewGuid().ToString().ToUpperInvariant();
        Write(
            "{\"what\":\"shopdiag-records\",\"version\":1,\"schema\":\"20261125093520_FirstShop\"}",
            $"{{\"table\":\"Customers\",\"row\":{{\"Id\":\"{person}\",\"Name\":\"Rita\",\"Phone\":\"\",\"Email\":\"\"}}}}",
            $"{{\"table\":\"Vehicles\",\"row\":{{\"Id\":\"{person}\",\"CustomerId\":\"{person}\",\"Plate\":\"OLD 1\",\"Vin\":\"\",\"Description\":\"\",\"EngineTitle\":\"\",\"Year\":null,\"EngineJson\":null}}}}",
            $"{{\"table\":\"Orders\",\"row\":{{\"Id\":\"{order}\",\"Number\":1001,\"Stage\":\"WrittenUp\",\"CustomerId\":\"{person}\",\"VehicleId\":\"{person}\",\"ConcernText\":\"\",\"ConcernCodes\":\"\",\"ConcernLamp\":\"Off\",\"ConcernWhen\":\"\",\"OdometerUnit\":\"km\",\"Technician\":\"\",\"AuthorisedMinutes\":0,\"CreatedAt\":\"2026-01-01 08:00:00\"}}}}");
        await shop.Data.ImportAsync(_file);
        Assert.Equal("OLD 1", (await shop.Orders.GetByNumberAsync(1001))!.Vehicle.Plate);
    }

    [Theory]
    [InlineData("", "Line 1")]
    [InlineData("{}", "Line 1")]
    [InlineData("not json", "Line 1")]
    [InlineData("{\"what\":\"shopdiag-records\",\"version\":99,\"schema\":\"x\"}", "newer")]
    [InlineData("{\"what\":\"shopdiag-records\",\"version\":1,\"schema\":\"29990101000000_Later\"}", "newer")]
    [InlineData("HEAD\n[1]", "Line 2")]
    [InlineData("HEAD\n{\"table\":\"Nothing\",\"row\":{}}", "no table")]
    [InlineData("HEAD\n{\"table\":\"__EFMigrationsHistory\",\"row\":{\"MigrationId\":\"x\",\"ProductVersion\":\"y\"}}", "no table")]
    [InlineData("HEAD\n{\"table\":\"sqlite_master\",\"row\":{\"name\":\"x\"}}", "no table")]
    [InlineData("HEAD\n{\"table\":\"Customers\\\" (Id) VALUES (1); DROP TABLE Orders; --\",\"row\":{}}", "no table")]
    [InlineData("HEAD\n{\"table\":\"Customers\",\"row\":{\"Id\\\") VALUES (1); DROP TABLE Orders; --\":1}}", "no column")]
    [InlineData("HEAD\n{\"table\":\"Settings\",\"row\":{\"Id\":2}}", "Line 2")]
    [InlineData("HEAD\n{\"table\":\"Customers\",\"row\":{\"Id\":\"a\",\"Name\":\"x\",\"Phone\":\"\",\"Email\":\"\"}}\n{\"table\":\"Vehicles\",\"row\":{\"Id\":\"b\",\"CustomerId\":\"nobody\",\"Plate\":\"\",\"Vin\":\"\",\"Description\":\"\",\"EngineTitle\":\"\"}}", "not whole")]
    public async Task What_cannot_be_read_is_named_by_its_line_and_nothing_is_taken(string text, string expected)
    {
        await using var shop = await TestShop.OpenAsync();
        await using (var db = shop.Context())
        {
            Write(text.Replace("HEAD", $"{{\"what\":\"shopdiag-records\",\"version\":1,\"schema\":\"{db.Database.GetMigrations().Last()}\"}}", StringComparison.Ordinal));
        }

        var refusal = await Assert.ThrowsAsync<ShopDataException>(() => shop.Data.ImportAsync(_file));
        Assert.Contains(expected, refusal.Message, StringComparison.Ordinal);
        Assert.Equal(0, shop.Scalar("SELECT count(*) FROM Customers"));
        Assert.False(Directory.Exists(Path.Combine(shop.Folder, "restore.part")));
        await shop.OpenOrderAsync();
    }

    [Fact]
    public async Task A_line_without_an_end_does_not_fill_the_memory()
    {
        await using var shop = await TestShop.OpenAsync();
        using (var zip = new ZipArchive(File.Create(_file), ZipArchiveMode.Create))
        using (var lines = zip.CreateEntry("records.jsonl", CompressionLevel.Optimal).Open())
        {
            var block = new byte[1_000_000];
            Array.Fill(block, (byte)' ');
            for (var i = 0; i < 200; i++)
            {
                lines.Write(block);
            }
        }

        Assert.InRange(new FileInfo(_file).Length, 1, 1_000_000);
        var before = GC.GetTotalAllocatedBytes();
        var refusal = await Assert.ThrowsAsync<ShopDataException>(() => shop.Data.ImportAsync(_file));
        Assert.Contains("longer than any", refusal.Message, StringComparison.Ordinal);
        Assert.InRange(GC.GetTotalAllocatedBytes() - before, 0, 150_000_000);
    }

    [Fact]
    public async Task A_shop_that_is_there_stays_as_it_is()
    {
        await using var shop = await FullShopAsync();
        await OutAsync(shop);
        var orders = shop.Scalar("SELECT count(*) FROM Orders");
        var refusal = await Assert.ThrowsAsync<ShopDataException>(() => shop.Data.ImportAsync(_file));
        Assert.Contains("There is a shop in this folder already", refusal.Message, StringComparison.Ordinal);
        Assert.Equal(orders, shop.Scalar("SELECT count(*) FROM Orders"));
    }

    [Theory]
    [InlineData("../escaped.jpg")]
    [InlineData("/escaped.jpg")]
    [InlineData("photos/../../escaped.jpg")]
    [InlineData("photos/escaped.jpg")]
    public async Task Files_of_other_names_are_not_unpacked(string name)
    {
        await using var shop = await FullShopAsync();
        await OutAsync(shop);
        using (var zip = ZipFile.Open(_file, ZipArchiveMode.Update))
        {
            using var text = new StreamWriter(zip.CreateEntry(name).Open());
            await text.WriteAsync("got out");
        }

        await using var other = await TestShop.OpenAsync();
        await other.Data.ImportAsync(_file);
        Assert.Empty(Directory.GetFiles(Path.GetDirectoryName(other.Folder)!, "escaped*"));
        Assert.Empty(Directory.GetFiles(other.Folder, "escaped*", SearchOption.AllDirectories));
        Assert.False(File.Exists("/escaped.jpg"));
    }

    private static async Task<TestShop> FullShopAsync()
    {
        var shop = await TestShop.OpenAsync();
        await shop.Shop.LoadDemoAsync();
        var order = (await shop.Orders.GetByNumberAsync(1014))!;
        await shop.AddPhotoAsync(order);
        await shop.SetAsync(order, OrderField.CustomerPhone, "555-0100");
        await shop.Orders.AddObstacleAsync(order.Id, new(Guid.NewGuid(), new("leak-down", Diagnosis.Place.Cylinder(1)) { Why = "no adapter" }, "Rosa"));
        var ended = Guid.NewGuid();
        await shop.Orders.AddObstacleAsync(order.Id, new(ended, new("compression-dry", Diagnosis.Place.Engine), "Rosa"));
        await shop.Orders.EndObstacleAsync(order.Id, ended, Guid.NewGuid(), "Rosa");
        var id = Guid.NewGuid();
        await shop.Recordings.KeepFileAsync(id, RecordingKind.Sound, new MemoryStream(Encoding.ASCII.GetBytes("RIFF and so on")));
        await shop.Recordings.AddAsync(new() { Id = id, OrderId = order.Id, Kind = RecordingKind.Sound, Cylinders = 4, Seconds = 12.5, Finished = true });
        return shop;
    }

    private async Task<byte[]> OutAsync(TestShop shop)
    {
        await using (var zip = File.Create(_file))
        {
            shop.Data.Export(zip);
        }

        return await File.ReadAllBytesAsync(_file);
    }

    private void Write(params string[] lines)
    {
        using var zip = new ZipArchive(File.Create(_file), ZipArchiveMode.Create);
        using var text = new StreamWriter(zip.CreateEntry("records.jsonl").Open());
        text.Write(string.Join('\n', lines));
    }
}
