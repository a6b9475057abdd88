using System.Collections.Immutable;
using System.Globalization;
using ShopDiag.Comebacks.Figures;
using ShopDiag.Diagnosis;
using ShopDiag.Reports.Models;
using ShopDiag.Storage.Shop;
using ShopDiag.Web.Papers;

namespace ShopDiag.Web.Owner;

/// <summary>The owner's figures on paper: what the page shows, with the same charts.</summary>
public static class OwnerPaper
{
    /// <summary>The paper, with the shop's logo or without.</summary>
    public static FigureReport Of(OwnerReport report, ShopSettings settings, Knowledge knowledge, ReadOnlyMemory<byte> logo = default)
    {
        ArgumentNullException.ThrowIfNull(report);
        ArgumentNullException.ThrowIfNull(settings);
        var days = OwnerWords.Days(report.Asks);
        return new()
        {
            Shop = PaperMaker.Shop(settings, logo),
            Title = report.Asks.Technician is { } who ? $"Figures of {who}" : "Comebacks and other figures",
            Date = report.Today,
            Introduction = $"{char.ToUpperInvariant(days[0])}{days[1..]}, counted as of the date above. {OwnerWords.Window(report)} Figures say where to look, not whose fault anything is: groups differ in their cars and causes, and a car that went elsewhere with the same trouble counts as good.",
            Sections = [Groups(report, knowledge), Right(report), Bench(report, knowledge), Unproven(report), Hours(report), .. report.Asks.Technician is null ? [Open(report)] : ImmutableArray<FigureSection>.Empty],
        };
    }

    private static FigureSection Groups(OwnerReport report, Knowledge knowledge)
    {
        var figures = report.Figures;
        string Name(GroupFigures g) => OwnerWords.Group(figures.By, g.Key, knowledge) + (g.AreSmallNumbers ? " (small numbers)" : "");
        var rates = new FigureTable(
            [new("Group"), new("Repairs", true), new("Comebacks", true), new("Rate, 95 % interval", true), new("To rank by", true), new("Against the others")],
            [.. figures.Groups.Select(g => new FigureRow([Name(g), Count(g.Repairs), Count(g.Comebacks), $"{OwnerWords.Percent(g.Rate)} ({OwnerWords.Percent(g.RateInterval)})", OwnerWords.Percent(g.ShrunkenRate), OwnerWords.Compared(g.Comparison)]))])
        {
            WhenEmpty = "No repairs were handed over in these days.",
            Note = "Small numbers: fewer than 10 repairs, of which chance can make any figure. The rate to rank by draws small groups towards all. Against the others: log-rank test in the variance form over days, adjusted for all comparisons by Benjamini and Hochberg.",
        };
        var good = new FigureTable(
            [new("Still good after"), .. report.StillGood(figures.All).Select(g => new FigureColumn(OwnerWords.At(report, g.At)))],
            [.. figures.Groups.Select(g => new FigureRow([Name(g), .. report.StillGood(g).Select(s => OwnerWords.Good(s.Good))]))])
        {
            Title = "Share still good, with its 95 % interval",
            WhenEmpty = "Nothing to follow yet.",
        };
        return new($"By {char.ToLowerInvariant(OwnerWords.Of(figures.By)[0])}{OwnerWords.Of(figures.By)[1..]}", "", [rates, good])
        {
            Charts = figures.All.Repairs == 0 ? [] : [ChartOnPapers.Of(OwnerCharts.Rates(report, knowledge, new(540, 250, 9))), ChartOnPapers.Of(OwnerCharts.StillGood(report, knowledge, new(540, 215, 9)))],
        };
    }

    private static FigureSection Right(OwnerReport report)
    {
        var all = report.Figures.All;
        var words = all.FirstTimeRight is { Of: > 0 } right
            ? $"{Count(right.Right)} of {Count(right.Of)} repairs, {OwnerWords.Percent(right.Share)} (95 % interval {OwnerWords.Percent(right.Interval)}): those whose days are over and that did not come back in them. {SmallNumbers.Remark(right.Of)}".TrimEnd()
            : "Not known yet: no repair is old enough.";
        return new("Right at the first go", words, [new([new("What became of the repairs"), new("Repairs", true)], [.. Enum.GetValues<Standing>().Select(s => new FigureRow([OwnerWords.Of(s), Count(all.CountOf(s))]))])]);
    }

    private static FigureSection Bench(OwnerReport report, Knowledge knowledge) => new(
        "Bench minutes to the proof", "What the readings usually take, in the order in which they were taken. Hunts that ended without proof are not in it.",
        [
            new(
                [new("Cause"), new("Orders", true), new("Median", true), new("Middle half", true)],
                [.. report.Bench.Select(b => new FigureRow([OwnerWords.Group(Grouping.Diagnosis, b.Cause, knowledge) + (b.AreSmallNumbers ? " (small numbers)" : ""), Count(b.Orders.Length), $"{Minutes(b.Minutes.Median)} min", $"{Minutes(b.Minutes.Lower)} to {Minutes(b.Minutes.Upper)} min"]))])
            { WhenEmpty = "No cause was proven with readings in these days." },
        ]);

    private static FigureSection Unproven(OwnerReport report) => new(
        "Parts fitted without proof", report.Unproven.Orders == 0 ? "" : $"{Count(report.Unproven.Parts)} on {Count(report.Unproven.Orders)} {(report.Unproven.Orders == 1 ? "order" : "orders")}. That a repair held does not say that the part was needed.",
        [
            new(
                [new("What became of the repair"), new("Parts", true), new("Orders", true)],
                [.. report.Unproven.Outcomes.Where(o => o.Parts > 0).Select(o => new FigureRow([OwnerWords.Of(o.Standing), Count(o.Parts), Count(o.Orders.Length)]))])
            { WhenEmpty = "None in these days." },
        ]);

    private static FigureSection Hours(OwnerReport report) => new(
        "Hours of diagnosis",
        report.Figures.All.Labour is { Orders: > 0 } labour
            ? $"Billed {OwnerWords.Hours(labour.Billed)}, spent {OwnerWords.Hours(labour.Spent)}, authorised {OwnerWords.Hours(labour.Authorised)}, over {Count(labour.Orders)} {(labour.Orders == 1 ? "order" : "orders")} on which both the price and the time spent are written down. Billed is the price agreed at today's labour rate."
            : "Not known: no order handed over in these days has both the price of its diagnosis and the time spent on it.",
        []);

    private static FigureSection Open(OwnerReport report) => new(
        "Open orders by age", "",
        [new([new("Age"), new("Orders", true)], [.. report.Open.Bands.Select(b => new FigureRow([OwnerWords.Age(b), Count(b.Orders.Length)]))])]);

    private static string Count(int number) => number.ToString("#,0", CultureInfo.InvariantCulture);

    private static string Minutes(double minutes) => Math.Round(minutes, MidpointRounding.AwayFromZero).ToString("0", CultureInfo.InvariantCulture);
}
