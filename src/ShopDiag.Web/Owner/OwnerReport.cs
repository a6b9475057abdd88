using System.Collections.Immutable;
using ShopDiag.Comebacks.Figures;
using ShopDiag.Comebacks.Repairs;
using ShopDiag.Storage.Comebacks;
using ShopDiag.Storage.Shop;

namespace ShopDiag.Web.Owner;

/// <summary>The owner's figures for some days and one grouping, with the numbers on paper of the orders behind them.</summary>
public sealed record OwnerReport
{
    private readonly Dictionary<Guid, int> _numbers;

    private OwnerReport(IEnumerable<RepairCase> cases) => _numbers = cases.ToDictionary(c => c.OrderId, c => c.Number);

    /// <summary>By groups.</summary>
    public required OwnerFigures Figures { get; init; }

    /// <summary>Bench minutes to the proof, by cause.</summary>
    public required ImmutableArray<BenchMinutes> Bench { get; init; }

    /// <summary>Parts fitted without proof.</summary>
    public required PartsWithoutProof Unproven { get; init; }

    /// <summary>The open orders by age, whatever days were asked about.</summary>
    public required OrderAging Open { get; init; }

    /// <summary>Reads the shop's orders and counts them.</summary>
    public static async Task<OwnerReport> ReadAsync(ComebackStore store, ShopSettings settings, TimeProvider time, OwnerAsks asks, CancellationToken cancel = default)
    {
        ArgumentNullException.ThrowIfNull(store);
        ArgumentNullException.ThrowIfNull(settings);
        ArgumentNullException.ThrowIfNull(time);
        ArgumentNullException.ThrowIfNull(asks);
        var today = DateOnly.FromDateTime(time.GetLocalNow().DateTime);
        var cases = await store.CasesAsync(time.LocalTimeZone, settings.ComebackWindow, cancel);
        var followed = FollowedRepairs.From(cases, new() { AsOf = today, Window = settings.ComebackWindow, From = asks.From, To = asks.To });
        return new(cases)
        {
            Figures = OwnerFigures.From(followed, asks.By),
            Bench = BenchMinutes.ByCause(followed),
            Unproven = PartsWithoutProof.Of(followed),
            Open = OrderAging.Of(await store.OpenOrdersAsync(time.LocalTimeZone, cancel), today),
        };
    }

    /// <summary>The numbers on paper of orders.</summary>
    public ImmutableArray<int> Numbers(IEnumerable<Guid> orders) => [.. orders.Select(o => _numbers[o])];
}

/// <summary>What the owner asks.</summary>
/// <param name="By">By what repairs are put together.</param>
/// <param name="From">First day of hand-over; null for all before.</param>
/// <param name="To">Last day of hand-over; null for all since.</param>
public sealed record OwnerAsks(Grouping By, DateOnly? From, DateOnly? To);
