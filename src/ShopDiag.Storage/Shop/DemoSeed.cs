using System.Collections.Immutable;
using System.Text.Json;
using ShopDiag.Diagnosis.Workups;
using ShopDiag.Estimates;
using ShopDiag.Storage.Json;
using ShopDiag.Storage.Orders;

namespace ShopDiag.Storage.Shop;

/// <summary>The demo shop as it stands in <c>seed/</c>, embedded in this assembly. Times are hours before (or after) the moment it is loaded.</summary>
internal sealed record DemoSeed(
    ShopSettings Shop, ImmutableArray<PriceEntry> Prices, ImmutableArray<Customer> Customers, ImmutableArray<SeedVehicle> Vehicles, ImmutableArray<SeedOrder> Orders)
{
    private const string Folder = "seed/";

    /// <summary>Reads all of it; a file that does not parse throws with its name.</summary>
    public static DemoSeed Read() => new(
        Read<ShopSettings>("shop.json"),
        Read<ImmutableArray<PriceEntry>>("prices.json"),
        Read<ImmutableArray<Customer>>("customers.json"),
        Read<ImmutableArray<SeedVehicle>>("vehicles.json"),
        [.. Files("order-").Select(Read<SeedOrder>).OrderBy(o => o.Number)]);

    private static IEnumerable<string> Files(string start) => typeof(DemoSeed).Assembly.GetManifestResourceNames()
        .Where(n => n.StartsWith(Folder + start, StringComparison.Ordinal))
        .Select(n => n[Folder.Length..]);

    private static T Read<T>(string file)
    {
        using var stream = typeof(DemoSeed).Assembly.GetManifestResourceStream(Folder + file)
            ?? throw new InvalidOperationException($"The demo shop's {Folder}{file} is not in the program.");
        using var reader = new StreamReader(stream);
        try
        {
            return StorageJson.ReadStrictly<T>(reader.ReadToEnd());
        }
        catch (JsonException e)
        {
            throw new InvalidOperationException($"The demo shop's {Folder}{file} does not parse: {e.Message}", e);
        }
    }
}

/// <summary>A vehicle and whose it is.</summary>
internal sealed record SeedVehicle(Guid CustomerId, Vehicle Vehicle);

/// <summary>An order. It stands where its last move took it.</summary>
internal sealed record SeedOrder
{
    public required Guid Id { get; init; }

    public required int Number { get; init; }

    public required Guid VehicleId { get; init; }

    /// <summary>The number of the earlier order that it is a comeback of.</summary>
    public int? ComebackOf { get; init; }

    public required string ConcernText { get; init; }

    public Concern Concern { get; init; } = new();

    public int? Odometer { get; init; }

    public string OdometerUnit { get; init; } = "mi";

    public double? PromisedInHours { get; init; }

    public string Technician { get; init; } = "";

    public int AuthorisedMinutes { get; init; }

    public long? DiagnosisPriceMinor { get; init; }

    /// <summary>The first is the writing up.</summary>
    public required ImmutableArray<SeedMove> Moves { get; init; }

    public ImmutableArray<SeedReading> Readings { get; init; } = [];

    public SeedFinding? Finding { get; init; }

    /// <summary>Pieces of a part where the finding leaves their number to the maker.</summary>
    public ImmutableDictionary<string, int> PartPieces { get; init; } = ImmutableDictionary<string, int>.Empty;

    /// <summary>Approved parts that nobody has ordered yet.</summary>
    public ImmutableArray<string> PartsNotOrdered { get; init; } = [];

    /// <summary>When the parts on their way are expected.</summary>
    public double? PartsExpectedInHours { get; init; }
}

/// <summary>A move.</summary>
internal sealed record SeedMove(double HoursAgo, OrderStage Stage, string By, string Reason = "");

/// <summary>A reading in the form of a workup line; its <c>supersedes</c> is the index of an earlier one of the order.</summary>
internal sealed record SeedReading(double HoursAgo, JsonElement Reading, bool Withdrawn = false);

/// <summary>The finding that was taken over.</summary>
internal sealed record SeedFinding(double HoursAgo, string By, double Probability, Conclusion Conclusion, string? UnprovenReason = null);
