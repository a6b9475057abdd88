using System.Collections.Immutable;
using ShopDiag.Diagnosis;
using ShopDiag.Diagnosis.BenchTests;
using ShopDiag.Diagnosis.Workups;
using ShopDiag.Storage.Orders;
using ShopDiag.Web.Orders;

namespace ShopDiag.Web.Components.WorkupViews;

/// <summary>What a person says on the page: the test at hand cannot be taken.</summary>
/// <param name="At">Where; the engine for nowhere on the car.</param>
/// <param name="Why">Why, or empty.</param>
/// <param name="Drafts">The keys of its texts in the journal.</param>
public sealed record ObstacleSaid(Place At, string Why, string[] Drafts);

/// <summary>A test that cannot be taken, as an open cell tells it.</summary>
/// <param name="Id">Its key.</param>
/// <param name="Words">Where it is not possible.</param>
/// <param name="Why">Why, or empty.</param>
/// <param name="Circumstances">When, by whom.</param>
public sealed record ObstacleView(Guid Id, string Words, string Why, string Circumstances)
{
    /// <summary>The word of a cell of the sheet. Said of no reading, so that it is not taken for one.</summary>
    public const string Word = "not possible";

    /// <summary>The pattern of such a cell: a barred circle, which no outcome has.</summary>
    public const string Pattern = "barred";

    /// <summary>What stands in the way of a test at a place, oldest first.</summary>
    public static IEnumerable<StoredObstacle> Standing(RepairOrder order, BenchTest test, Place at)
    {
        ArgumentNullException.ThrowIfNull(order);
        return order.Obstacles.Where(o => o.Stands && o.Obstacle.Blocks(test, at));
    }

    /// <summary>The same in words.</summary>
    public static ImmutableArray<ObstacleView> Of(RepairOrder order, BenchTest test, Place at, ShopClock clock)
    {
        ArgumentNullException.ThrowIfNull(clock);
        return [.. Standing(order, test, at).Select(o => new ObstacleView(
            o.Id, o.Obstacle.At == Place.Engine ? "Not possible on this car" : $"Not possible at {o.Obstacle.At}", o.Obstacle.Why,
            string.Join(", ", new[] { clock.Say(o.SaidAt), o.By }.Where(t => t.Length > 0))))];
    }

    /// <summary>In the order of the tests, the whole car before a place, as lists have them: nobody looks for a cylinder by the time at which it was said.</summary>
    public static IEnumerable<T> Ordered<T>(IEnumerable<T> said, Func<T, Obstacle> of, Knowledge knowledge)
    {
        ArgumentNullException.ThrowIfNull(knowledge);
        var tests = knowledge.Tests.Select((t, i) => (t.Id, i)).ToDictionary(p => p.Id, p => p.i, StringComparer.Ordinal);
        return said.OrderBy(s => tests.GetValueOrDefault(of(s).Test, int.MaxValue)).ThenBy(s => of(s).At);
    }

    /// <summary>A test and where it cannot be taken, for lists: <c>Leak-down, cylinder 3</c>.</summary>
    public static string Name(BenchTest test, Place at)
    {
        ArgumentNullException.ThrowIfNull(test);
        return at == Place.Engine ? test.Title : $"{test.Title}, {at}";
    }
}
