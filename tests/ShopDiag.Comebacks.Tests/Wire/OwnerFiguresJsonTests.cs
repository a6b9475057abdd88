using System.Text.Json;
using ShopDiag.Comebacks.Figures;
using ShopDiag.Comebacks.Wire;

namespace ShopDiag.Comebacks.Tests.Wire;

public sealed class OwnerFiguresJsonTests
{
    private static readonly OwnerQuestion Question = new() { AsOf = Cases.Day(400), From = Cases.Day(0), Window = new(90, 5_000) };

    [Fact]
    public void A_group_is_a_line_with_its_figures_and_orders()
    {
        var figures = OwnerFigures.From([Cases.Repair(1001, 0), Cases.Repair(1002, 0), Cases.Back(1100, 20, of: 1001, km: 50_700)], Question, Grouping.Diagnosis);
        var line = Assert.Single(OwnerFiguresJson.Lines(figures));

        Assert.Equal(
            """
            {"by":"diagnosis","group":"coil-failed","asOf":"2031-02-05","from":"2030-01-01","to":null,"window":{"days":90,"km":5000},
            "repairs":2,"comebacks":1,"later":0,"undecided":0,"tooEarly":0,"rate":0.5,"low":0.094531,"high":0.905469,"shrunkenRate":0.5,"smallNumbers":true,
            "stillGood":{"days":[{"at":30,"share":0.5,"low":0.005983,"high":0.91041,"atRisk":1},{"at":90,"share":0.5,"low":0.005983,"high":0.91041,"atRisk":1},
            {"at":365,"share":0.5,"low":0.005983,"high":0.91041,"atRisk":1}],"km":[{"at":5000,"share":0.5,"low":0.005983,"high":0.91041,"atRisk":1},
            {"at":10000,"share":0.5,"low":0.005983,"high":0.91041,"atRisk":1},{"at":20000,"share":null,"low":null,"high":null,"atRisk":0}],"kmEstimated":1},
            "againstOthers":null,"firstTimeRight":{"right":1,"of":2,"share":0.5},"minutes":{"orders":0,"authorised":0,"billed":0,"spent":0},
            "comebackOrders":[{"repair":1001,"return":1100}],"undecidedOrders":[],"orders":[1001,1002]}
            """.ReplaceLineEndings(""),
            line);
    }

    [Fact]
    public void A_comparison_names_its_form_and_allows_for_all_that_were_made()
    {
        var cases = Enumerable.Range(0, 100).SelectMany(i => new[]
        {
            Cases.Repair(1001 + i, 0) with { Technician = i % 2 == 0 ? "Kim" : "Lee" },
            Cases.Back(5001 + i, 10 + i, of: i < 30 ? 1001 + i : 1, km: null),
        });
        var line = OwnerFiguresJson.Lines(OwnerFigures.From(cases, Question, Grouping.Technician)).First();
        var against = JsonDocument.Parse(line).RootElement.GetProperty("againstOthers");

        Assert.Equal("log-rank, variance form (O−E)²/V", against.GetProperty("test").GetString());
        Assert.Equal(2, against.GetProperty("comparisons").GetInt32());
        Assert.InRange(against.GetProperty("adjustedP").GetDouble(), against.GetProperty("p").GetDouble(), 1);
        Assert.Equal(15, against.GetProperty("observed").GetInt32());
    }

    [Fact]
    public void Every_grouping_has_a_word_that_is_read_back()
    {
        Assert.Equal(
            ["all", "diagnosis", "technician", "engine-family", "part-maker", "vendor", "proof", "repair-check"], Enum.GetValues<Grouping>().Select(OwnerFiguresJson.Word));
        Assert.All(Enum.GetValues<Grouping>(), g => Assert.Equal(g, OwnerFiguresJson.Read(OwnerFiguresJson.Word(g))));
        Assert.Null(OwnerFiguresJson.Read("star-sign"));
    }
}
