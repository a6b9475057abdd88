using System.Globalization;
using Microsoft.Data.Sqlite;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Time.Testing;
using ShopDiag.Diagnosis;
using ShopDiag.Diagnosis.BenchTests;
using ShopDiag.Diagnosis.Engines;
using ShopDiag.Storage.Backups;
using ShopDiag.Storage.Data;
using ShopDiag.Storage.Learning;
using ShopDiag.Storage.Opening;
using ShopDiag.Storage.Orders;
using ShopDiag.Storage.Personal;
using ShopDiag.Storage.Photos;
using ShopDiag.Storage.Recordings;
using ShopDiag.Storage.Rows;
using ShopDiag.Storage.Shop;
using ShopDiag.Storage.Writing;

namespace ShopDiag.Storage.Tests;

/// <summary>A shop on a real database file in a temporary folder of its own, with a clock that stands still until told otherwise.</summary>
internal sealed class TestShop : IAsyncDisposable
{
    private readonly bool _ownsFolder;
    private readonly ServiceProvider _services;

    private TestShop(string folder, bool ownsFolder)
    {
        (Folder, _ownsFolder) = (folder, ownsFolder);
        _services = new ServiceCollection().AddSingleton<TimeProvider>(Clock).AddShopStorage(folder).BuildServiceProvider();
    }

    public string Folder { get; }

    public FakeTimeProvider Clock { get; } = new(new DateTimeOffset(2026, 3, 2, 8, 0, 0, TimeSpan.Zero));

    public OrderStore Orders => _services.GetRequiredService<OrderStore>();

    public RecordingStore Recordings => _services.GetRequiredService<RecordingStore>();

    public PhotoStore Photos => _services.GetRequiredService<PhotoStore>();

    public ShopStore Shop => _services.GetRequiredService<ShopStore>();

    public BackupStore Backups => _services.GetRequiredService<BackupStore>();

    public ShopData Data => _services.GetRequiredService<ShopData>();

    public CustomerStore Customers => _services.GetRequiredService<CustomerStore>();

    public StorageTrouble Trouble => _services.GetRequiredService<StorageTrouble>();

    public CaseStore Cases => _services.GetRequiredService<CaseStore>();

    public ChangeBus Bus => _services.GetRequiredService<ChangeBus>();

    public WriteQueue Writer => _services.GetRequiredService<WriteQueue>();

    public IServiceProvider Services => _services;

    /// <summary>Opens a shop; on an empty folder of its own unless one is given.</summary>
    public static async Task<TestShop> OpenAsync(string? folder = null)
    {
        var shop = Closed(folder);
        await shop._services.OpenShopAsync();
        return shop;
    }

    /// <summary>A shop that has not been opened.</summary>
    public static TestShop Closed(string? folder = null) => new(folder ?? NewFolder(), folder is null);

    public static string NewFolder() => Path.Combine(Path.GetTempPath(), "shopdiag-" + Guid.NewGuid().ToString("N"));

    public ShopDb Context() => _services.GetRequiredService<ShopDbFactory>().CreateForOpening();

    /// <summary>Runs SQL as a stranger would, beside the program's own connections.</summary>
    public long Scalar(string sql) => Convert.ToInt64(Run(sql), CultureInfo.InvariantCulture);

    /// <summary>The same for a text.</summary>
    public string Text(string sql) => (string)Run(sql)!;

    /// <summary>The same for anything.</summary>
    public object? Run(string sql)
    {
        Directory.CreateDirectory(Folder);
        using var connection = new SqliteConnection($"Data Source={Path.Combine(Folder, "shop.db")};Pooling=False");
        connection.Open();
        using var command = connection.CreateCommand();
        command.CommandText = sql;
        return command.ExecuteScalar();
    }

    /// <summary>How SQLite would run a query, a line a step.</summary>
    public IReadOnlyList<string> Plan(string query)
    {
        using var connection = new SqliteConnection($"Data Source={Path.Combine(Folder, "shop.db")};Pooling=False");
        connection.Open();
        using var command = connection.CreateCommand();
        command.CommandText = "EXPLAIN QUERY PLAN " + query;
        using var reader = command.ExecuteReader();
        var steps = new List<string>();
        while (reader.Read())
        {
            steps.Add(reader.GetString(3));
        }

        return steps;
    }

    public Task<RepairOrder> OpenOrderAsync() => Orders.OpenAsync(Guid.NewGuid(), "Rosa");

    /// <summary>Saves a field without looking at what was there.</summary>
    public Task<SaveResult> SetAsync(RepairOrder order, OrderField field, string value) =>
        Orders.SetFieldAsync(order.Id, field, value, null, Guid.NewGuid(), "Rosa");

    public async Task<RepairOrder> ReadAsync(RepairOrder order) => (await Orders.GetAsync(order.Id))!;

    public static EngineSpec Four { get; } = new()
    {
        Layout = "I4", Banks = [[1, 2, 3, 4]], FiringOrder = [1, 3, 4, 2], Ignition = Ignition.CoilOnPlug, Injection = Injection.Port,
    };

    public static NewReading Compression(int cylinder, double kPa, Guid? supersedes = null) => new()
    {
        Id = Guid.NewGuid(),
        SupersedesId = supersedes,
        Reading = new Reading { Test = "compression-dry", At = Place.Cylinder(cylinder), Value = Value("kPa", kPa), By = "Rosa" },
    };

    public static ReadingValue Value(string field, double number) => new([KeyValuePair.Create(field, FieldValue.Of(number))]);

    /// <summary>Puts a photo on an order; its bytes are no picture, which the store does not mind.</summary>
    public async Task<Guid> AddPhotoAsync(RepairOrder order, int length = 1000)
    {
        var id = Guid.NewGuid();
        var bytes = new byte[length];
        new Random(length).NextBytes(bytes);
        var photo = new NewPhoto { Id = id, OrderId = order.Id, Test = "borescope", At = Place.Cylinder(1), Width = 4, Height = 3, By = "Rosa" };
        Assert.Equal(SaveOutcome.Saved, (await Photos.AddAsync(photo, bytes, bytes.AsMemory(0, length / 2))).Outcome);
        return id;
    }

    /// <summary>The path of a photo's file.</summary>
    public string PhotoFile(Guid id) => Path.Combine(Folder, "photos", $"{id:N}.jpg");

    public async ValueTask DisposeAsync()
    {
        await _services.DisposeAsync();
        if (_ownsFolder && Directory.Exists(Folder))
        {
            Directory.Delete(Folder, recursive: true);
        }
    }
}
