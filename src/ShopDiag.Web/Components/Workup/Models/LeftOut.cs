using ShopDiag.Diagnosis;
using ShopDiag.Diagnosis.Engines;
using ShopDiag.Diagnosis.Workups;
using ShopDiag.Storage.Orders;

namespace ShopDiag.Web.Components.WorkupViews;

/// <summary>What the plan leaves out, for whoever reads that there is nothing left to do.</summary>
internal static class LeftOut
{
    /// <summary>The tests that cannot be taken on the car, and how many the shop lacks the tools for; empty where nothing is left out.</summary>
    public static string InWords(RepairOrder order, Engine engine, ShopSetup shop, Knowledge knowledge)
    {
        var standing = order.Obstacles.Where(o => o.Stands && o.Obstacle.Error(knowledge, engine) is null).Select(o => o.Obstacle).ToArray();
        var blocked = ObstacleView.Ordered(standing, o => o, knowledge).Where(o => o.At == Place.Engine || !standing.Any(s => s.Test == o.Test && s.At == Place.Engine))
            .Select(o => ObstacleView.Name(knowledge.Test(o.Test)!, o.At)).Distinct().ToArray();
        var toolless = knowledge.Tests.Count(t => t.Fits(engine) && !t.Tools.All(shop.Owns));
        return (blocked, toolless) switch
        {
            ([], 0) => "",
            ([], _) => $"Left out: {Toolless(toolless)}.",
            (_, 0) => $"Left out, as they cannot be taken: {string.Join("; ", blocked)}.",
            _ => $"Left out, as they cannot be taken: {string.Join("; ", blocked)}; and {Toolless(toolless)}.",
        };
    }

    private static string Toolless(int tests) => tests == 1 ? "one test whose tool the shop does not have" : $"{tests} tests whose tools the shop does not have";
}
