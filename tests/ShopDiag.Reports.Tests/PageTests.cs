using System.Collections.Immutable;
using ShopDiag.Diagnosis;
using ShopDiag.Diagnosis.Workups;
using UglyToad.PdfPig.Core;

namespace ShopDiag.Reports.Tests;

public sealed class PageTests
{
    public static TheoryData<PaperSize, double, double> Sheets => new() { { PaperSize.Letter, 612, 792 }, { PaperSize.A4, 595.28, 841.89 } };

    [Theory]
    [MemberData(nameof(Sheets))]
    public void An_ordinary_case_fits_on_one_page(PaperSize paper, double width, double height)
    {
        foreach (var bytes in new[] { Papers.CustomerReport(Samples.Simple, paper), Papers.PartsList(Samples.SimpleParts, paper) })
        {
            using var pdf = new ReadPdf(bytes);
            var page = Assert.Single(pdf.Pages);
            Assert.Equal(width, page.Width, 0.01);
            Assert.Equal(height, page.Height, 0.01);
            Assert.Contains("Page 1 of 1 ", pdf.Text, StringComparison.Ordinal);
        }
    }

    [Theory]
    [MemberData(nameof(Sheets))]
    public void Each_page_says_which_of_how_many_it_is_and_to_which_order_it_belongs(PaperSize paper, double width, double height)
    {
        using var pdf = new ReadPdf(Papers.PartsList(Samples.SimpleParts with { Parts = ManyParts(120) }, paper));

        Assert.InRange(pdf.Pages.Count, 4, 12);
        Assert.All(pdf.Pages, page => Assert.Equal((width, height), (page.Width, page.Height), Close));
        for (var p = 0; p < pdf.Pages.Count; p++)
        {
            Assert.Contains($"Page {p + 1} of {pdf.Pages.Count}", pdf.PageTexts[p], StringComparison.Ordinal);
            Assert.Equal(p > 0, pdf.PageTexts[p].Contains("Parts list, repair order 1042", StringComparison.Ordinal));
        }
    }

    [Fact]
    public void A_long_table_repeats_its_header_on_each_page_but_is_read_out_with_one()
    {
        using var pdf = new ReadPdf(Papers.PartsList(Samples.SimpleParts with { Parts = ManyParts(120) }, PaperSize.Letter));

        Assert.All(pdf.PageTexts, text => Assert.Contains("Line Quantity Part Position Must match", text, StringComparison.Ordinal));
        Assert.Single(pdf.Root.Tagged("TH"), header => header.Text == "Must match");
        Assert.Equal(
            Enumerable.Range(1, 120).Select(i => $"Part number {i}"),
            pdf.Root.Tagged("TR").Select(r => r.Children).Where(c => c.Count == 5).Skip(1).Select(c => c[2].Text.Replace(" replace together", "", StringComparison.Ordinal)));
    }

    [Fact]
    public void A_row_is_kept_on_one_page()
    {
        var parts = ManyParts(60).Select((p, i) => p with { MustMatch = $"first{i} " + string.Concat(Enumerable.Repeat("as the old one in every respect ", 1 + (i % 9))) + $"last{i}" });
        using var pdf = new ReadPdf(Papers.PartsList(Samples.SimpleParts with { Parts = [.. parts] }, PaperSize.A4));

        Assert.True(pdf.Pages.Count > 3);
        for (var i = 0; i < 60; i++)
        {
            Assert.Contains(pdf.PageTexts, text => (text + " ").Contains($"first{i} ", StringComparison.Ordinal) && (text + " ").Contains($"last{i} ", StringComparison.Ordinal));
        }
    }

    [Fact]
    public void A_row_higher_than_a_page_is_carried_on_whole()
    {
        var words = Enumerable.Range(1, 2500).Select(i => $"w{i}").ToList();
        using var pdf = new ReadPdf(Papers.PartsList(Samples.SimpleParts with { Parts = [Samples.Coil(4) with { MustMatch = string.Join(' ', words) }] }, PaperSize.Letter));

        Assert.True(pdf.Pages.Count > 3);
        var carried = pdf.Root.Tagged("TR").Select(r => r.Children).Where(c => c.Count == 5).Skip(1).Select(c => c[4].Text);
        Assert.Equal(words, string.Join(' ', carried).Split(' ', StringSplitOptions.RemoveEmptyEntries));
    }

    [Fact]
    public void A_heading_is_never_the_last_thing_on_a_page()
    {
        for (var lines = 0; lines < 60; lines++)
        {
            var concern = string.Join('\n', Enumerable.Range(1, lines).Select(i => $"line {i}"));
            using var pdf = new ReadPdf(Papers.CustomerReport(Samples.Large(Samples.VSix, "V6") with { Concern = concern }, PaperSize.Letter));
            foreach (var text in pdf.PageTexts)
            {
                var body = text.Split("Larkspur Engine Works | 555-0142 Page")[0].TrimEnd();
                Assert.DoesNotContain(Headings, heading => body.EndsWith(heading, StringComparison.Ordinal));
            }
        }
    }

    [Fact]
    public void A_paragraph_leaves_no_single_line_behind()
    {
        for (var lines = 40; lines < 110; lines++)
        {
            var concern = string.Join('\n', Enumerable.Range(1, lines).Select(i => $"line-{i}-of-many"));
            using var pdf = new ReadPdf(Papers.CustomerReport(Samples.Simple with { Concern = concern }, PaperSize.Letter));
            Assert.All(pdf.PageTexts, text => Assert.NotEqual(1, text.Split("-of-many").Length - 1));
        }
    }

    [Theory]
    [MemberData(nameof(AllPapers.OnBothSizes), MemberType = typeof(AllPapers))]
    public void All_text_stands_within_the_margins_and_none_is_printed_over_other_text(string name, PaperSize size)
    {
        using var pdf = new ReadPdf(AllPapers.ByName[name](size));
        foreach (var page in pdf.Pages)
        {
            var boxes = page.Letters.Where(l => l.Value != " ").Select(l => l.BoundingBox).OrderBy(b => b.Bottom).ToArray();
            Assert.InRange(boxes.Min(b => b.Left), 49, page.Width);
            Assert.InRange(boxes.Max(b => b.Right), 0, page.Width - 49);
            Assert.InRange(boxes.Min(b => b.Bottom), 15, page.Height);
            Assert.InRange(boxes.Max(b => b.Top), 0, page.Height - 15);
            for (var i = 0; i < boxes.Length; i++)
            {
                for (var other = i + 1; other < boxes.Length && boxes[other].Bottom < boxes[i].Top; other++)
                {
                    Assert.False(Overlap(boxes[i], boxes[other]), $"Page {page.Number}: text overlaps at {boxes[i].BottomLeft}.");
                }
            }
        }
    }

    [Theory]
    [MemberData(nameof(AllPapers.OnBothSizes), MemberType = typeof(AllPapers))]
    public void No_picture_and_no_line_leaves_the_sheet(string name, PaperSize size)
    {
        using var pdf = new ReadPdf(AllPapers.ByName[name](size));
        foreach (var page in pdf.Pages)
        {
            var drawn = page.GetImages().Select(i => i.BoundingBox).Concat(page.Paths.Select(p => p.GetBoundingRectangle()).OfType<PdfRectangle>());
            Assert.All(drawn, box =>
            {
                Assert.InRange(box.Left, 45, page.Width - 45);
                Assert.InRange(box.Right, 45, page.Width - 45);
                Assert.InRange(box.Bottom, 15, page.Height - 15);
            });
        }
    }

    [Theory]
    [InlineData("letter", PaperSize.Letter)]
    [InlineData(" A4 ", PaperSize.A4)]
    [InlineData("LETTER", PaperSize.Letter)]
    public void Paper_is_read_as_people_write_it(string text, PaperSize paper) => Assert.Equal(paper, PaperSizes.Parse(text).Value);

    [Theory]
    [InlineData("")]
    [InlineData("a5")]
    [InlineData(null)]
    public void Other_paper_is_refused_with_what_is_allowed(string? text)
    {
        var error = PaperSizes.Parse(text).Error;

        Assert.Equal(new InputError("paper", "The paper must be letter or a4."), error);
    }

    [Fact]
    public void A_paper_that_does_not_exist_is_a_broken_promise() =>
        Assert.Throws<ArgumentOutOfRangeException>(() => Papers.CustomerReport(Samples.Simple, (PaperSize)7));

    private static readonly string[] Headings = ["What you told us", "What we tested", "What we found", "What we propose", "If it waits", "Please note", "How we know:"];

    private static bool Close((double Width, double Height) a, (double Width, double Height) b) =>
        Math.Abs(a.Width - b.Width) < 0.01 && Math.Abs(a.Height - b.Height) < 0.01;

    /// <summary>By more than 0.8 points both ways: neighbouring glyphs touch, and some reach over a little.</summary>
    private static bool Overlap(PdfRectangle a, PdfRectangle b) =>
        Math.Min(a.Right, b.Right) - Math.Max(a.Left, b.Left) > 0.8 && Math.Min(a.Top, b.Top) - Math.Max(a.Bottom, b.Bottom) > 0.8;

    private static ImmutableArray<RepairPart> ManyParts(int count) =>
        [.. Enumerable.Range(1, count).Select(i => new RepairPart($"Part number {i}", 1, Place.Cylinder(1 + (i % 6)), "As the old one, same maker and same index", i % 3 == 0))];
}
