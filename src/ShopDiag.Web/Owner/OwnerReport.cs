using System.Collections.Immutable;
using ShopDiag.Comebacks.Figures;
using ShopDiag.Comebacks.Repairs;
using ShopDiag.Storage.Comebacks;
using ShopDiag.Storage.Shop;

namespace ShopDiag.Web.Owner;

/// <summary>What the owner asks.</summary>
/// <param name="By">By what repairs are put together.</param>
/// <param name="From">First day of hand-over; null for all before.</param>
/// <param name="To">Last day of hand-over; null for all since.</param>
/// <param name="Technician">Only the repairs of one technician; null for everybody's.</param>
/// <param name="OverDistance">True to see how many are still good after so many kilometres or miles, and not after so many days.</param>
public sealed record OwnerAsks(Grouping By, DateOnly? From, DateOnly? To, string? Technician = null, bool OverDistance = false);

/// <summary>The owner's figures for some days and one grouping, with the orders behind them.</summary>
public sealed record OwnerReport
{
    private readonly Lazy<Dictionary<Guid, RepairCase>> _cases;

    // Which order is which is needed only when a list of them is made.
    private OwnerReport(ImmutableArray<RepairCase> cases) => _cases = new(() => cases.ToDictionary(c => c.OrderId));

    /// <summary>What was asked.</summary>
    public required OwnerAsks Asks { get; init; }

    /// <summary>The day as of which is counted.</summary>
    public required DateOnly Today { get; init; }

    /// <summary>In which unit and at which distances the share still good is told.</summary>
    public required OwnerDistances Distances { get; init; }

    /// <summary>The repairs that were asked about, with what became of each.</summary>
    public required FollowedRepairs Followed { get; init; }

    /// <summary>By groups.</summary>
    public required OwnerFigures Figures { get; init; }

    /// <summary>Bench minutes to the proof, by cause.</summary>
    public required ImmutableArray<BenchMinutes> Bench { get; init; }

    /// <summary>Parts fitted without proof.</summary>
    public required PartsWithoutProof Unproven { get; init; }

    /// <summary>The open orders by age, whatever was asked about.</summary>
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
        var followed = FollowedRepairs.From(cases, new() { AsOf = today, Window = settings.ComebackWindow, From = asks.From, To = asks.To, Technician = asks.Technician });
        return new(cases)
        {
            Asks = asks,
            Today = today,
            Distances = OwnerDistances.Of(settings),
            Followed = followed,
            Figures = OwnerFigures.From(followed, asks.By),
            Bench = BenchMinutes.ByCause(followed),
            Unproven = PartsWithoutProof.Of(followed),
            Open = OrderAging.Of(await store.OpenOrdersAsync(time.LocalTimeZone, cancel), today),
        };
    }

    /// <summary>The number on paper of an order.</summary>
    public int Number(Guid order) => _cases.Value[order].Number;

    /// <summary>The shares still good of a group at the days or distances asked about, each with its place on the scale.</summary>
    public ImmutableArray<(int At, StillGood Good)> StillGood(GroupFigures group)
    {
        ArgumentNullException.ThrowIfNull(group);
        return Asks.OverDistance
            ? [.. Distances.Axis.TableAt.Select(at => (at, new StillGood(at, group.KilometresGood.At(Distances.Axis.InCurve(at)))))]
            : [.. group.StillGoodDays.Select(g => (g.At, g))];
    }
}
