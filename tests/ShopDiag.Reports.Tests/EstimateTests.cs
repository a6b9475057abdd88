using ShopDiag.Reports.Fonts;
using ShopDiag.Reports.Layout;
using ShopDiag.Reports.Models;
using UglyToad.PdfPig.Content;

namespace ShopDiag.Reports.Tests;

public sealed class EstimateTests
{
    [Fact]
    public void Every_value_of_the_estimate_stands_on_the_report()
    {
        var model = SamplesOfMoney.FullCase with { Estimate = SamplesOfMoney.FullCase.Estimate! with { Approvals = [SamplesOfMoney.Approval with { Signature = null }] } };
        var estimate = model.Estimate!;
        var lines = estimate.NeededNow.Lines.Concat(estimate.Advised!.Lines);
        var totals = new[] { estimate.NeededNow.Totals, estimate.Advised.Totals, estimate.Together! };
        string[] expected =
        [
            .. lines.SelectMany(l => new[] { l.Text, l.Note, l.Quantity, l.UnitPrice, l.Discount, l.TaxCode, l.Amount }),
            .. totals.SelectMany(t => new[] { t.Subtotal, t.Discounts, t.Total }.Concat(t.Taxes.SelectMany(x => new[] { $"{x.Code}: {x.Rate} of {x.Base}", x.Amount }))),
            "Needed now", "Advised, can wait", "Total, needed now", "Total, advised, can wait", "Both together",
            estimate.HeldBackReason, estimate.RoundingNote, estimate.LegalText,
            "Approved: everything needed now, not the air filter; up to $225.76, by Marisol Tennant, in person, signed, May 31, 2026, 10:42 a.m., reference 1042-1.",
        ];

        var text = Text(model);

        Assert.All(expected, value => Assert.Contains(value, text, StringComparison.Ordinal));
    }

    [Fact]
    public void The_estimate_takes_the_place_of_parts_labour_and_price()
    {
        var text = Text(SamplesOfMoney.SimpleCase);

        Assert.Contains(SamplesOfMoney.SimpleCase.Proposal!.Summary, text, StringComparison.Ordinal);
        Assert.DoesNotContain("Labour:", text, StringComparison.Ordinal);
        Assert.DoesNotContain("ask at the counter", text, StringComparison.Ordinal);
    }

    [Fact]
    public void An_estimate_without_a_proposal_is_printed_all_the_same()
    {
        var text = Text(SamplesOfMoney.SimpleCase with { Proposal = null });

        Assert.Contains("$225.76", text, StringComparison.Ordinal);
        Assert.DoesNotContain("No repair is proposed yet", text, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(PaperSize.Letter)]
    [InlineData(PaperSize.A4)]
    public void A_simple_case_goes_home_on_one_sheet_with_room_to_sign(PaperSize paper)
    {
        using var pdf = new ReadPdf(Papers.CustomerReport(SamplesOfMoney.SimpleCase, paper));

        Assert.Single(pdf.Pages);
        Assert.Equal(4, SamplesOfMoney.SimpleCase.Estimate!.NeededNow.Lines.Length);
        Assert.Equal(5, SamplesOfMoney.SimpleCase.Tests.Length);
        Assert.Contains("Name Date Signature", pdf.Text, StringComparison.Ordinal);
        Assert.All(pdf.Pages[0].Letters, letter => Assert.InRange(letter.PointSize, 7.4, 20));
    }

    [Theory]
    [InlineData(PaperSize.Letter)]
    [InlineData(PaperSize.A4)]
    public void Whatever_the_cause_a_simple_case_stays_on_one_sheet(PaperSize paper)
    {
        var longer = Diagnosis.Knowledge.Shipped.Causes.Where(cause =>
        {
            var finding = Samples.Simple.Findings[0] with { Cause = cause.Title, Sentence = cause.ForCustomer.Replace("{place}", "cylinder 3", StringComparison.Ordinal) };
            using var pdf = new ReadPdf(Papers.CustomerReport(SamplesOfMoney.SimpleCase with { Findings = [finding], IfItWaits = [cause.IfLeft] }, paper));
            return pdf.Pages.Count > 1;
        });

        Assert.Empty(longer.Select(cause => cause.Id));
    }

    [Theory]
    [InlineData(PaperSize.Letter)]
    [InlineData(PaperSize.A4)]
    public void A_simple_case_that_was_signed_goes_home_on_one_sheet_too(PaperSize paper)
    {
        using var pdf = new ReadPdf(Papers.CustomerReport(AllPapers.Approved(SamplesOfMoney.Approval), paper));

        Assert.Single(pdf.Pages);
    }

    [Fact]
    public void Columns_that_no_line_fills_are_left_out()
    {
        var group = SamplesOfMoney.Estimate.NeededNow with { Lines = [.. SamplesOfMoney.Estimate.NeededNow.Lines.Select(l => l with { Discount = "", TaxCode = "" })] };
        using var pdf = Read(SamplesOfMoney.SimpleCase with { Estimate = SamplesOfMoney.Estimate with { NeededNow = group } });

        Assert.Equal(["Needed now", "Quantity", "Price each", "Amount"], Table(pdf, "Needed now").Children[0].Children.Select(c => c.Text));
    }

    [Fact]
    public void Amounts_end_below_each_other()
    {
        using var pdf = Read(SamplesOfMoney.SimpleCase);
        double[] ends = [.. new[] { "$93.00", "$98.50", "$9.95", "$20.00", "$221.45", "-$5.00", "$9.31", "$225.76" }.Select(money => LastOf(pdf.Pages[0], money).EndBaseLine.X)];

        Assert.All(ends, end => Assert.Equal(ends[0], end, 0.1));
    }

    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public void All_digits_are_of_one_width(bool bold)
    {
        using var set = new Typesetter();

        Assert.Single("0123456789".Select(digit => Math.Round(set.Width(digit.ToString(), new Face(10, bold)), 3)).Distinct());
        Assert.Equal("IBM Plex Sans", PaperFonts.Family);
    }

    [Fact]
    public void A_held_back_part_is_marked_and_the_reason_stands_below()
    {
        using var pdf = Read(SamplesOfMoney.FullCase);
        var held = pdf.Root.Tagged("TR").Where(r => r.Text.Contains("Held back until the cause is proven", StringComparison.Ordinal)).ToList();

        Assert.StartsWith("Engine control module", Assert.Single(held).Text, StringComparison.Ordinal);
        Assert.Contains("Held back: We first prove that the module has failed", pdf.Text, StringComparison.Ordinal);
    }

    [Fact]
    public void Nothing_held_back_says_nothing_of_it() =>
        Assert.DoesNotContain("Held back", Text(SamplesOfMoney.SimpleCase with { Estimate = SamplesOfMoney.Estimate with { HeldBackReason = "Only for held back parts." } }), StringComparison.Ordinal);

    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public void Where_some_work_can_wait_the_customer_ticks_a_choice(bool choice)
    {
        var text = Text(choice ? SamplesOfMoney.FullCase : SamplesOfMoney.SimpleCase);

        Assert.Equal(choice, text.Contains("Only what is needed now What is needed now and what is advised", StringComparison.Ordinal));
        Assert.Contains("With my signature I order the work above", text, StringComparison.Ordinal);
    }

    [Fact]
    public void Once_approved_there_is_no_more_room_to_sign()
    {
        using var pdf = Read(AllPapers.Approved(SamplesOfMoney.Approval, new ApprovalOnPaper { What = "the air filter too" }));

        Assert.DoesNotContain("With my signature I order", pdf.Text, StringComparison.Ordinal);
        Assert.Contains("Approved: the air filter too.", pdf.Text, StringComparison.Ordinal);
        Assert.Single(pdf.Root.Tagged("Figure"), f => f.Alternative == "Signature of Marisol Tennant");
    }

    [Fact]
    public void A_signature_is_drawn_stroke_by_stroke()
    {
        using var without = Read(AllPapers.Approved(SamplesOfMoney.Approval with { Signature = null }));
        using var signed = Read(AllPapers.Approved(SamplesOfMoney.Approval));

        Assert.Equal(SamplesOfMoney.Signature.Strokes.Length, signed.Pages[0].Paths.Count - without.Pages[0].Paths.Count);
    }

    [Theory]
    [InlineData(-0.5, 0)]
    [InlineData(1.5, 1)]
    [InlineData(0.25, 0.25)]
    public void A_finger_that_leaves_the_pad_is_taken_to_its_edge(double drawn, double kept) => Assert.Equal(kept, new InkPoint(drawn, 0).X);

    [Fact]
    public void A_point_without_numbers_and_a_pad_without_a_shape_are_broken_promises()
    {
        Assert.Throws<ArgumentOutOfRangeException>(() => new InkPoint(0, double.NaN));
        Assert.Throws<ArgumentOutOfRangeException>(() => new SignatureOnPaper { Aspect = 0 });
    }

    [Fact]
    public void Three_hundred_lines_are_all_there_each_page_with_the_heads_of_its_columns()
    {
        using var pdf = Read(Hostile.ReportOfLines(300));

        Assert.Equal(Enumerable.Range(1, 300).Select(i => $"Line number {i}"), Table(pdf, "Needed now").Children.Skip(1).Select(r => r.Children[0].Text));
        Assert.All(pdf.PageTexts.Where(t => t.Contains("Line number", StringComparison.Ordinal)), t => Assert.Contains("Needed now Quantity Price each Tax Amount", t, StringComparison.Ordinal));
    }

    private static ReadPdf.Element Table(ReadPdf pdf, string firstHead) => pdf.Root.Tagged("Table").Single(t => t.Children[0].Children[0].Text == firstHead);

    private static Letter LastOf(Page page, string text)
    {
        var letters = page.Letters.Where(l => l.Value != " ").ToList();
        var start = Enumerable.Range(0, letters.Count - text.Length).Last(i => string.Concat(letters.Skip(i).Take(text.Length).Select(l => l.Value)) == text);
        return letters[start + text.Length - 1];
    }

    private static ReadPdf Read(CustomerReport model) => new(Papers.CustomerReport(model, PaperSize.Letter));

    private static string Text(CustomerReport model)
    {
        using var pdf = Read(model);
        return pdf.Text;
    }
}
