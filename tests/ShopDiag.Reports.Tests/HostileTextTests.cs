namespace ShopDiag.Reports.Tests;

public sealed class HostileTextTests
{
    private const string Remark = "Some characters of the text cannot be printed in this typeface; each is shown as a question mark.";

    public static TheoryData<string, string> Texts => new()
    {
        { "<script>alert('x')</script> & \"so\" on", "<script>alert('x')</script> & \"so\" on" },
        { "( unbalanced \\ [ %PDF endobj >> <<", "( unbalanced \\ [ %PDF endobj >> <<" },
        { "Übermäßig façade naïve Łódź Ωμέγα 5 kΩ ±2 °C – “ok” …", "Übermäßig façade naïve Łódź Ωμέγα 5 kΩ ±2 °C – “ok” …" },
        { "Οδυσσέας Ελύτης", "Οδυσσέας Ελύτης" },
        { "Алексей Ёлкин, Київ", "Алексей Ёлкин, Київ" },
        { "Nguyễn Thị Ngọc Ánh, Đặng Hữu Phước", "Nguyễn Thị Ngọc Ánh, Đặng Hữu Phước" },
        { "e\u0301 comes apart", "é comes apart" },
        { "tab\there, bell\u0007, null\0, soft\u00ADhyphen, zero\u200Bwidth, mark\u200F", "tab here, bell, null, softhyphen, zerowidth, mark" },
        { "one\r\ntwo\rthree\u2028four", "one two three four" },
        { "narrow\u202Fspace", "narrow space" },
    };

    [Theory]
    [MemberData(nameof(Texts))]
    public void Text_that_can_be_printed_is_printed_as_it_is(string text, string printed)
    {
        foreach (var (name, bytes) in Filled(text))
        {
            using var pdf = new ReadPdf(bytes);
            Assert.True(pdf.Root.All.Count(e => e.OwnText.Contains(printed, StringComparison.Ordinal)) > 5, name);
            Assert.DoesNotContain(Remark, pdf.Text, StringComparison.Ordinal);
        }
    }

    [Theory]
    [MemberData(nameof(Texts))]
    public void No_place_that_takes_text_loses_it(string text, string printed)
    {
        using var report = new ReadPdf(Papers.CustomerReport(Hostile.Report(text), PaperSize.Letter));
        using var invoice = new ReadPdf(Papers.Invoice(Hostile.Bill(text), PaperSize.Letter));

        Assert.Contains("Customer: " + printed, report.Text, StringComparison.Ordinal);
        Assert.All(
            ["Concern:", "Cause:", "Correction:", "Approved:"],
            lead => Assert.Contains(invoice.Root.Tagged("P"), p => p.Text.StartsWith($"{lead} {printed}", StringComparison.Ordinal)));
    }

    private static IEnumerable<(string Name, byte[] Paper)> Filled(string text) =>
    [
        ("report", Papers.CustomerReport(Hostile.Report(text), PaperSize.Letter)), ("parts", Papers.PartsList(Hostile.Parts(text), PaperSize.Letter)),
        ("sheet", Papers.BenchSheet(Hostile.Sheet(text), PaperSize.Letter)), ("invoice", Papers.Invoice(Hostile.Bill(text), PaperSize.Letter)),
        ("figures", Papers.FigureReport(Hostile.Figures(text), PaperSize.Letter)),
    ];

    public static TheoryData<string, string> Unprintable => new()
    {
        { "shakes 🚗 badly", "shakes ? badly" },
        { "family 👨‍👩‍👧‍👦 car", "family ? car" },
        { "flag 🇳🇴", "flag ?" },
        { "漢字", "??" },
        { "שלום", "????" },
        { "half \uD83D pair", "half ? pair" },
        { "private \uE123 use", "private ? use" },
    };

    [Theory]
    [MemberData(nameof(Unprintable))]
    public void What_has_no_glyph_becomes_a_question_mark_and_the_paper_says_so(string text, string printed)
    {
        using var report = new ReadPdf(Papers.CustomerReport(Samples.Simple with { CustomerName = text }, PaperSize.Letter));
        using var parts = new ReadPdf(Papers.PartsList(Samples.SimpleParts with { WantedBy = text }, PaperSize.Letter));

        Assert.Contains("Customer: " + printed + " Repair order", report.Text, StringComparison.Ordinal);
        Assert.Contains("Wanted by: " + printed + " Firing order", parts.Text, StringComparison.Ordinal);
        Assert.Contains(Remark, report.Text, StringComparison.Ordinal);
        Assert.Contains(Remark, parts.Text, StringComparison.Ordinal);
    }

    [Fact]
    public void A_word_of_ten_thousand_letters_is_printed_to_its_last()
    {
        using var pdf = new ReadPdf(Papers.CustomerReport(Samples.Simple with { Concern = new string('x', 10_000) }, PaperSize.A4));

        Assert.Contains(pdf.Root.Tagged("P"), p => p.Text == new string('x', 10_000));
    }

    [Fact]
    public void Empty_texts_everywhere_still_make_every_paper()
    {
        Assert.All(Filled(""), paper =>
        {
            using var pdf = new ReadPdf(paper.Paper);
            Assert.InRange(pdf.Pages.Count, 1, 2);
            Assert.True(pdf.Root.Tagged("H1").Any() || paper.Name == "figures");
        });
        using var report = new ReadPdf(Papers.CustomerReport(Hostile.Report(""), PaperSize.Letter));
        using var parts = new ReadPdf(Papers.PartsList(Hostile.Parts(""), PaperSize.Letter));

        Assert.Contains("Nothing was written down.", report.Text, StringComparison.Ordinal);
        Assert.Contains("Cause not proven: no reason was given.", parts.Text, StringComparison.Ordinal);
    }

    [Fact]
    public void Thousands_of_blank_lines_do_not_make_thousands_of_pages()
    {
        using var pdf = new ReadPdf(Papers.CustomerReport(Samples.Simple with { Concern = "first" + new string('\n', 9_000) + "last" }, PaperSize.Letter));

        Assert.InRange(pdf.Pages.Count, 1, 2);
        Assert.Contains("first last", pdf.Text, StringComparison.Ordinal);
    }
}
