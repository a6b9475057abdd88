using System.Globalization;
using System.Text;
using ShopDiag.Comebacks.Figures;
using ShopDiag.Diagnosis;

namespace ShopDiag.Web.Owner;

/// <summary>The owner's figures as a file for spreadsheets, a group a row.</summary>
public static class OwnerCsv
{
    /// <summary>The rows. Shares are numbers from 0 to 1 with a point; a cell that a spreadsheet would take for a formula gets an apostrophe in front.</summary>
    public static string Write(OwnerReport report, Knowledge knowledge)
    {
        ArgumentNullException.ThrowIfNull(report);
        var text = new StringBuilder();
        Row(text, ["Group", "Repairs", "Comebacks", "Rate", "Rate from", "Rate to", "Rate to rank by", "Small numbers", .. OwnerFigures.Days.Select(d => $"Still good at {d} days"),
            .. report.Distances.Axis.TableAt.Select(d => $"Still good at {d} {report.Distances.Unit}"),
            "Came back later", "Undecided", "Too early", "Orders", "Comebacks as repair>return"]);
        foreach (var group in report.Figures.Groups)
        {
            Row(text,
            [
                OwnerWords.Group(report.Figures.By, group.Key, knowledge), Number(group.Repairs), Number(group.Comebacks), Number(group.Rate), Number(group.RateInterval.Low),
                Number(group.RateInterval.High), Number(group.ShrunkenRate), group.AreSmallNumbers ? "yes" : "no", .. group.StillGoodDays.Select(g => Number(g.Share?.Survival)),
                .. report.Distances.Axis.TableAt.Select(d => Number(group.KilometresGood.At(report.Distances.Axis.InCurve(d))?.Survival)),
                Number(group.CountOf(Standing.CameBackLater)), Number(group.CountOf(Standing.Undecided)), Number(group.CountOf(Standing.TooEarly)),
                string.Join(' ', group.Followed.Select(f => f.Case.Number)),
                string.Join(' ', group.ComebackOrders.Select(c => $"{report.Number(c.Repair)}>{report.Number(c.Return)}")),
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
