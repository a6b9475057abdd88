using ShopDiag.Reports.Models;

namespace ShopDiag.Reports.Tests;

public sealed class FigureReportTests
{
    [Fact]
    public void Every_value_of_the_model_stands_on_the_paper()
    {
        using var pdf = new ReadPdf(Papers.FigureReport(SamplesOfMoney.Comebacks, PaperSize.A4));
        string[] expected =
        [
            "Comebacks, January to May 2026", "5/31/2026", "Repairs that came back for the same trouble.", "By diagnosis", "Small numbers say little.", "Rates",
            "Diagnosis Repairs Came back Rate", "Ignition coil failed 41 2 5 %", "Intake leak at a runner 8 3 38 %", "Rate with its 95 % interval", "Nobody has comebacks.",
        ];

        Assert.All(expected, value => Assert.Contains(value, pdf.Text, StringComparison.Ordinal));
        Assert.Equal("Comebacks, January to May 2026", pdf.Information.Title);
        Assert.Equal(["0 Comebacks, January to May 2026", "1 By diagnosis"], pdf.Bookmarks);
    }

    [Fact]
    public void A_table_without_columns_and_a_row_too_short_are_broken_promises()
    {
        Assert.Throws<ArgumentException>(() => new FigureTable([], []));
        Assert.Throws<ArgumentException>(() => new FigureTable([new("A"), new("B")], [new(["only one"])]));
    }

    [Fact]
    public void Figures_end_below_each_other()
    {
        using var pdf = new ReadPdf(Papers.FigureReport(SamplesOfMoney.Comebacks, PaperSize.A4));
        var letters = pdf.Pages[0].Letters.Where(l => l.Value != " ").ToList();
        double EndOf(string text) => letters[Enumerable.Range(0, letters.Count).First(i => string.Concat(letters.Skip(i).Take(text.Length).Select(l => l.Value)) == text) + text.Length - 1].EndBaseLine.X;

        Assert.Equal(EndOf("failed41"), EndOf("runner8"), 0.1);
    }
}
