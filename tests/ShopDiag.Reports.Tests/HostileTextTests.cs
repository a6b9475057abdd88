namespace ShopDiag.Reports.Tests;

public sealed class HostileTextTests
{
    private const string Remark = "Some characters of the text cannot be printed in this typeface; each is shown as a question mark.";

    public static TheoryData<string, string> Texts => new()
    {
        { "<script>alert('x')</script> & \"so\" on", "<script>alert('x')</script> & \"so\" on" },
        { "( unbalanced \\ [ %PDF endobj >> <<", "( unbalanced \\ [ %PDF endobj >> <<" },
        { "Übermäßig façade naïve Łódź Ωμέγα 5 kΩ ±2 °C – “ok” …", "Übermäßig façade naïve Łódź Ωμέγα 5 kΩ ±2 °C – “ok” …" },
        { "e\u0301 comes apart", "é comes apart" },
        { "tab\there, bell\u0007, null\0, soft\u00ADhyphen, zero\u200Bwidth, mark\u200F", "tab here, bell, null, softhyphen, zerowidth, mark" },
        { "one\r\ntwo\rthree\u2028four", "one two three four" },
        { "narrow\u202Fspace", "narrow space" },
    };

    [Theory]
    [MemberData(nameof(Texts))]
    public void Text_that_can_be_printed_is_printed_as_it_is(string text, string printed)
    {
        using var report = new ReadPdf(Papers.CustomerReport(Samples.Filled(text), PaperSize.Letter));
        using var parts = new ReadPdf(Papers.PartsList(Samples.FilledParts(text), PaperSize.Letter));

        Assert.Contains("Customer: " + printed, report.Text, StringComparison.Ordinal);
        Assert.Contains(printed, parts.Text, StringComparison.Ordinal);
        Assert.DoesNotContain(Remark, report.Text + parts.Text, StringComparison.Ordinal);
    }

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
    public void Empty_texts_everywhere_still_make_both_papers()
    {
        using var report = new ReadPdf(Papers.CustomerReport(Samples.Filled(""), PaperSize.Letter));
        using var parts = new ReadPdf(Papers.PartsList(Samples.FilledParts(""), PaperSize.Letter));

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
