using System.Xml.Linq;
using ShopDiag.Diagnosis;
using ShopDiag.Diagnosis.Engines;
using ShopDiag.Reports.Models;
using UglyToad.PdfPig.Tokens;

namespace ShopDiag.Reports.Tests;

public sealed class StructureTests
{
    [Fact]
    public void The_file_names_itself_its_shop_and_the_date_of_its_model()
    {
        using var report = new ReadPdf(Papers.CustomerReport(Samples.Simple, PaperSize.Letter));
        using var parts = new ReadPdf(Papers.PartsList(Samples.SimpleParts, PaperSize.Letter));

        Assert.Equal("Customer report, repair order 1042", report.Information.Title);
        Assert.Equal("Parts list, repair order 1042", parts.Information.Title);
        Assert.Equal("Larkspur Engine Works", report.Information.Author);
        Assert.StartsWith("D:20260531", report.Information.CreationDate, StringComparison.Ordinal);
        Assert.Null(report.Information.ModifiedDate);
    }

    [Theory]
    [MemberData(nameof(AllPapers.OnBothSizes), MemberType = typeof(AllPapers))]
    public void Every_paper_is_one_tree_of_headings_tables_and_pictures_with_words(string name, PaperSize size)
    {
        using var pdf = new ReadPdf(AllPapers.ByName[name](size));
        var read = Squeeze(pdf.Root.Text);
        var sheet = pdf.Pages.Sum(p => p.GetMarkedContents().Where(c => c.MarkedContentIdentifier < 0).Sum(c => Squeeze(string.Concat(c.Letters.Select(l => l.Value))).Length));

        Assert.Equal(Squeeze(pdf.Text).Length, read.Length + sheet);
        Assert.Single(pdf.Root.Tagged("H1"));
        Assert.Equal(pdf.Root.All.Where(e => e.Tag is "H1" or "H2").Select(h => Squeeze(h.Text)), pdf.Bookmarks.Select(b => Squeeze(b[2..])));
        Assert.All(pdf.Root.Tagged("Figure"), f => Assert.False(string.IsNullOrWhiteSpace(f.Alternative)));
        Assert.All(pdf.Root.Tagged("Table"), table => Assert.Single(table.Children.Select(row => row.Children.Sum(c => c.ColumnSpan)).Distinct()));
        Assert.All(pdf.Root.Tagged("TH"), cell => Assert.True(cell.Scope is "Row" or "Column"));
        Assert.All(pdf.Root.Tagged("TR"), row => Assert.Contains(row.Children, cell => cell.Tag == "TH"));
        for (var p = 0; p < pdf.Pages.Count; p++)
        {
            Assert.Contains($"Page {p + 1} of {pdf.Pages.Count}", pdf.PageTexts[p], StringComparison.Ordinal);
        }
    }

    [Fact]
    public void The_file_is_marked_as_tagged_and_shows_its_title()
    {
        using var pdf = new ReadPdf(Papers.CustomerReport(Samples.Simple, PaperSize.Letter));

        Assert.Equal(BooleanToken.True, pdf.Resolve<DictionaryToken>(pdf.Catalog.Data["MarkInfo"]).Data["Marked"]);
        Assert.Equal(BooleanToken.True, pdf.Resolve<DictionaryToken>(pdf.Catalog.Data["ViewerPreferences"]).Data["DisplayDocTitle"]);
        Assert.Equal("en-US", ((StringToken)pdf.Catalog.Data["Lang"]).Data);
    }

    [Fact]
    public void Headings_are_the_bookmarks()
    {
        using var pdf = new ReadPdf(Papers.CustomerReport(Samples.Simple, PaperSize.Letter));

        Assert.Equal("Report on your vehicle", Assert.Single(pdf.Root.Tagged("H1")).Text);
        Assert.Equal(["0 Report on your vehicle", .. pdf.Root.Tagged("H2").Select(h => "1 " + h.Text)], pdf.Bookmarks);
    }

    [Fact]
    public void Every_letter_is_read_out_or_belongs_to_the_sheet()
    {
        using var pdf = new ReadPdf(Papers.CustomerReport(Samples.Large(Samples.WSixteen, "W16"), PaperSize.Letter));
        var read = Squeeze(pdf.Root.Text);
        var sheet = pdf.Pages.Sum(p => p.GetMarkedContents().Where(c => c.MarkedContentIdentifier < 0).Sum(c => Squeeze(string.Concat(c.Letters.Select(l => l.Value))).Length));

        Assert.True(pdf.Pages.Count > 1);
        Assert.True(sheet > 0);
        Assert.Equal(Squeeze(pdf.Text).Length, read.Length + sheet);
    }

    [Fact]
    public void Wrapped_lines_are_read_out_with_a_blank_between_them()
    {
        var words = string.Join(' ', Enumerable.Range(1, 400).Select(i => $"word{i}"));
        using var pdf = new ReadPdf(Papers.CustomerReport(Samples.Simple with { Concern = words }, PaperSize.A4));

        Assert.Contains(pdf.Root.Tagged("P"), p => p.Text == words);
    }

    [Fact]
    public void A_paragraph_over_two_pages_is_one_paragraph()
    {
        var words = string.Join(' ', Enumerable.Range(1, 1500).Select(i => $"word{i}"));
        using var pdf = new ReadPdf(Papers.CustomerReport(Samples.Simple with { Concern = words }, PaperSize.A4));

        Assert.True(pdf.Pages.Count > 2);
        Assert.Contains(pdf.Root.Tagged("P"), p => p.Text == words);
    }

    [Fact]
    public void Each_table_has_rows_of_cells_and_headers_that_say_what_they_head()
    {
        using var pdf = new ReadPdf(Papers.PartsList(Samples.SimpleParts, PaperSize.Letter));
        var tables = pdf.Root.Tagged("Table").ToList();

        Assert.Equal(2, tables.Count);
        Assert.All(tables, table => Assert.All(table.Children, row => Assert.Equal("TR", row.Tag)));
        Assert.All(pdf.Root.Tagged("TR"), row => Assert.All(row.Children, cell => Assert.True(cell.Tag is "TH" or "TD")));
        Assert.All(pdf.Root.Tagged("TH"), cell => Assert.True(cell.Scope is "Row" or "Column"));
        Assert.Equal(["Line", "Quantity", "Part", "Position", "Must match"], tables[1].Children[0].Children.Select(c => c.Text));
    }

    [Fact]
    public void Every_row_of_a_table_is_as_wide_as_its_header()
    {
        using var pdf = new ReadPdf(Papers.CustomerReport(Samples.Large(Samples.VEight, "V8"), PaperSize.Letter));

        Assert.All(pdf.Root.Tagged("Table"), table => Assert.Single(table.Children.Select(row => row.Children.Sum(c => c.ColumnSpan)).Distinct()));
    }

    public static TheoryData<string> Engines => ["I4", "V6", "V8", "W16", "I16"];

    [Theory]
    [MemberData(nameof(Engines))]
    public void The_drawing_says_each_cylinder_in_words(string layout)
    {
        var model = Samples.Large(EngineOf(layout), layout);
        using var pdf = new ReadPdf(Papers.CustomerReport(model, PaperSize.A4));
        var alternative = pdf.Root.Tagged("Figure").First().Alternative!;

        Assert.StartsWith("The engine seen from above, its front on the left.", alternative, StringComparison.Ordinal);
        Assert.Contains(EnginePlan.Of(model.Vehicle.Engine!).InWords, alternative, StringComparison.Ordinal);
        Assert.All(model.Cylinders, c => Assert.Contains($"cylinder {c.Cylinder}: {c.Word}", alternative, StringComparison.Ordinal));
    }

    [Fact]
    public void A_cylinder_without_a_state_is_drawn_as_not_tested()
    {
        using var pdf = new ReadPdf(Papers.CustomerReport(Samples.Simple with { Cylinders = [.. Samples.Simple.Cylinders.Take(3)] }, PaperSize.A4));

        Assert.EndsWith("cylinder 3: dead; cylinder 4: not tested.", pdf.Root.Tagged("Figure").First().Alternative, StringComparison.Ordinal);
    }

    [Fact]
    public void Words_too_wide_for_their_cylinder_move_into_a_key_below()
    {
        var model = Samples.Simple with { Cylinders = [.. Samples.Simple.Cylinders.Take(3), new(4, Diagnosis.Workups.CylinderCondition.Weak, "pulls much less than the others")] };
        using var pdf = new ReadPdf(Papers.CustomerReport(model, PaperSize.A4));

        Assert.Contains("Cylinders 1, 2: pulls. Cylinder 3: dead. Cylinder 4: pulls much less than the others.", pdf.Text, StringComparison.Ordinal);
    }

    [Fact]
    public void A_chart_says_its_figures_in_words()
    {
        using var pdf = new ReadPdf(Papers.CustomerReport(Samples.Large(Samples.InlineFour, "I4"), PaperSize.A4));

        Assert.Equal(
            "Bar chart: Speed drop when cut out, rpm. Cylinder 1: 41 rpm; Cylinder 2: 42 rpm; Cylinder 3: 43 rpm; Cylinder 4: 44 rpm.",
            pdf.Root.Tagged("Figure").Last().Alternative);
    }

    [Fact]
    public void A_chart_without_any_length_is_drawn_all_the_same()
    {
        MeasureBar[] bars = [new(Place.Cylinder(1), 0, "0 rpm", Verdict.Bad), new(Place.Cylinder(2), -3, "-3 rpm", Verdict.Bad)];
        using var pdf = new ReadPdf(Papers.CustomerReport(Samples.Simple with { Charts = [new("Drop", [.. bars])] }, PaperSize.A4));

        Assert.Contains("0 rpm", pdf.Text, StringComparison.Ordinal);
        Assert.Contains("-3 rpm", pdf.Text, StringComparison.Ordinal);
    }

    [Fact]
    public void A_bar_without_a_number_is_a_broken_promise() =>
        Assert.Throws<ArgumentOutOfRangeException>(() => new MeasureBar(Place.Cylinder(1), double.NaN, "", Verdict.Good));

    [Fact]
    public void The_metadata_stays_well_formed_whatever_the_shop_is_called()
    {
        using var pdf = new ReadPdf(Papers.CustomerReport(Samples.Simple with { Shop = new("Smith & Sons <b>Motors</b>", "", "") }, PaperSize.A4));

        Assert.NotNull(XDocument.Parse(pdf.Metadata).Root);
        Assert.Equal("Smith Sons bMotors/b", pdf.Information.Author);
        Assert.Contains("Smith & Sons <b>Motors</b>", pdf.Text, StringComparison.Ordinal);
    }

    private static Engine EngineOf(string layout) => layout switch
    {
        "I4" => Samples.InlineFour,
        "V6" => Samples.VSix,
        "V8" => Samples.VEight,
        "W16" => Samples.WSixteen,
        "I16" => Samples.LongInline,
        _ => throw new ArgumentOutOfRangeException(nameof(layout), layout, null),
    };

    private static string Squeeze(string text) => text.Replace(" ", "", StringComparison.Ordinal);
}
