using ShopDiag.Comebacks.Charts;
using ShopDiag.Diagnosis;

namespace ShopDiag.Web.Owner;

/// <summary>The charts of the owner's figures, laid out once for screen and paper.</summary>
public static class OwnerCharts
{
    /// <summary>The rates of the groups.</summary>
    public static Chart Rates(OwnerReport report, Knowledge knowledge, ChartSetting room)
    {
        ArgumentNullException.ThrowIfNull(report);
        return RateBarChart.Layout(
            "Rate of comebacks", [.. report.Figures.Groups.Where(g => g.Repairs > 0).Select(g => new RateBar(OwnerWords.Group(report.Figures.By, g.Key, knowledge), g.Comebacks, g.Repairs))], room);
    }

    /// <summary>The shares still good, by days or by distance.</summary>
    public static Chart StillGood(OwnerReport report, Knowledge knowledge, ChartSetting room)
    {
        ArgumentNullException.ThrowIfNull(report);
        var distance = report.Asks.OverDistance;
        return SurvivalChart.Layout(
            "Share of repairs still good",
            [.. report.Figures.Groups.Select(g => new SurvivalSeries(OwnerWords.Group(report.Figures.By, g.Key, knowledge), distance ? g.KilometresGood : g.DaysGood, g.AreSmallNumbers))],
            distance ? report.Distances.Axis : SurvivalAxis.Days,
            room);
    }
}
