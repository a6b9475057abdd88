using System.Globalization;
using System.Text;
using ShopDiag.Comebacks.Figures;
using ShopDiag.Comebacks.Wire;
using ShopDiag.Diagnosis;
using ShopDiag.Storage.Comebacks;
using ShopDiag.Storage.People;
using ShopDiag.Storage.Shop;
using ShopDiag.Web.People;

namespace ShopDiag.Web.Owner;

/// <summary>The owner's figures as a file for spreadsheets, a group a row.</summary>
public static class OwnerCsv
{
    /// <summary>Adds <c>GET /owner/comebacks.csv?by=…&amp;from=…&amp;to=…</c>; days as <c>2026-03-31</c>.</summary>
    public static void MapOwner(this IEndpointRouteBuilder app) =>
        app.MapGet("/owner/comebacks.csv", async (string? by, DateOnly? from, DateOnly? to, ComebackStore store, ShopStore shops, Knowledge knowledge, TimeProvider time, CancellationToken cancel) =>
        {
            var asks = new OwnerAsks(OwnerFiguresJson.Read(by ?? "") ?? Grouping.Diagnosis, from, to);
            var report = await OwnerReport.ReadAsync(store, await shops.GetAsync(cancel) ?? new ShopSettings(), time, asks, cancel);
            // With a mark at the start: without it spreadsheets take the letters beyond ASCII for others.
            byte[] bytes = [.. Encoding.UTF8.GetPreamble(), .. Encoding.UTF8.GetBytes(Write(report, knowledge))];
            return TypedResults.File(bytes, "text/csv; charset=utf-8", "comebacks.csv");
        }).Needs(Permission.SeeFigures);

    /// <summary>The rows. Shares are numbers from 0 to 1 with a point; a cell that a spreadsheet would take for a formula gets an apostrophe in front.</summary>
    public static string Write(OwnerReport report, Knowledge knowledge)
    {
        ArgumentNullException.ThrowIfNull(report);
        var text = new StringBuilder();
        Row(text, ["Group", "Repairs", "Comebacks", "Rate", "Rate from", "Rate to", "Rate to rank by", "Small numbers", .. OwnerFigures.Days.Select(d => $"Still good at {d} days"),
            "Came back later", "Undecided", "Too early", "Orders", "Comebacks as repair>return"]);
        foreach (var group in report.Figures.Groups)
        {
            Row(text,
            [
                OwnerWords.Group(report.Figures.By, group.Key, knowledge), Number(group.Repairs), Number(group.Comebacks), Number(group.Rate), Number(group.RateInterval.Low),
                Number(group.RateInterval.High), Number(group.ShrunkenRate), group.AreSmallNumbers ? "yes" : "no", .. group.StillGoodDays.Select(g => Number(g.Share?.Survival)),
                Number(group.CountOf(Standing.CameBackLater)), Number(group.CountOf(Standing.Undecided)), Number(group.CountOf(Standing.TooEarly)),
                string.Join(' ', report.Numbers(group.RepairOrders)),
                string.Join(' ', group.ComebackOrders.Select(c => $"{report.Numbers([c.Repair])[0]}>{report.Numbers([c.Return])[0]}")),
            ]);
        }

        return text.ToString();
    }

    private static void Row(StringBuilder text, IEnumerable<string> cells) => text.AppendJoin(',', cells.Select(Cell)).Append("\r\n");

    private static string Cell(string cell)
    {
        var safe = cell.TrimStart() is ['=' or '+' or '-' or '@', ..] ? "'" + cell : cell;
        return $"\"{safe.Replace("\"", "\"\"", StringComparison.Ordinal)}\"";
    }

    private static string Number(double? value) => value is { } number ? Math.Round(number, 6, MidpointRounding.AwayFromZero).ToString(CultureInfo.InvariantCulture) : "";
}
