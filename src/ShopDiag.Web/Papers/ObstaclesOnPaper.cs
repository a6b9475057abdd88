using System.Collections.Immutable;
using ShopDiag.Diagnosis;
using ShopDiag.Diagnosis.BenchTests;
using ShopDiag.Diagnosis.Workups;
using ShopDiag.Reports.Models;
using ShopDiag.Storage.Orders;
using ShopDiag.Web.Components.WorkupViews;
using ShopDiag.Web.Orders;

namespace ShopDiag.Web.Papers;

/// <summary>What could not be taken on a car, as the bench sheet tells it. The customer's report tells what was found, and leaves it out.</summary>
internal static class ObstaclesOnPaper
{
    /// <summary>A line each: the test and where, why, who said so and when. Only what still stands and fits the engine.</summary>
    public static ImmutableArray<string> Lines(RepairOrder order, Workup workup, Knowledge knowledge, ShopClock clock) =>
    [
        .. ObstacleView.Ordered(order.Obstacles.Where(o => o.Stands && workup.Obstacles.Contains(o.Obstacle)), o => o.Obstacle, knowledge).Select(o =>
            $"{ObstacleView.Name(knowledge.Test(o.Obstacle.Test)!, o.Obstacle.At)}{(o.Obstacle.Why.Length > 0 ? $": {o.Obstacle.Why}" : "")} ({string.Join(", ", new[] { o.By, clock.Date(o.SaidAt) }.Where(t => t.Length > 0))})"),
    ];

    /// <summary>The marks in the cells of a test, where there is no reading: one for the whole car, or one for each place.</summary>
    public static IEnumerable<ReadingOnPaper> Marks(Workup workup, BenchTest test, ImmutableArray<ReadingOnPaper> read)
    {
        var places = workup.Obstacles.Where(o => o.Test == test.Id && !read.Any(r => o.Blocks(test, r.At))).Select(o => o.At).Distinct().ToArray();
        return (places.Contains(Place.Engine) ? [Place.Engine] : places)
            .Select(at => new ReadingOnPaper(at, "", at == Place.Engine ? $"{ObstacleView.Word} on this car" : ObstacleView.Word, Verdict.Neutral));
    }
}
