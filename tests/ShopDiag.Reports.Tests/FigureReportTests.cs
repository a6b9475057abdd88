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

    [Fact]
    public void A_chart_is_drawn_as_it_was_laid_out_with_its_words_for_those_who_do_not_see_it()
    {
        var section = new FigureSection("Charts", "", []) { Charts = [Hostile.Chart("Zest")] };
        var bytes = Papers.FigureReport(SamplesOfMoney.Comebacks with { Sections = [section] }, PaperSize.A4);
        using var pdf = new ReadPdf(bytes);
        var paths = pdf.Pages[0].Paths;
        var texts = pdf.Pages[0].Letters.Where(l => l.Value == "Z").Select(l => l.StartBaseLine.X).ToArray();

        Assert.Equal(4, System.Text.RegularExpressions.Regex.Count(pdf.Text, "Zest"));
        // The title, then three texts about one point: the first begins there, the second has its middle there, the third ends there.
        Assert.Equal(texts[1] - texts[2], texts[2] - texts[3], 0.1);
        Assert.True(paths.Count > 20);
        Assert.Contains("/Alt", System.Text.Encoding.Latin1.GetString(bytes), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(0)]
    [InlineData(-1)]
    [InlineData(double.NaN)]
    [InlineData(double.PositiveInfinity)]
    public void A_chart_without_a_size_is_a_broken_promise(double width) => Assert.Throws<ArgumentOutOfRangeException>(() => Hostile.Chart("x") with { Width = width });
}
