using System.Text;
using ShopDiag.Reports.Fonts;
using UglyToad.PdfPig.Tokens;

namespace ShopDiag.Reports.Tests;

public sealed class FontTests
{
    [Theory]
    [InlineData('A', true)]
    [InlineData('Ω', true)]
    [InlineData('°', true)]
    [InlineData('±', true)]
    [InlineData('×', true)]
    [InlineData('•', true)]
    [InlineData('…', true)]
    [InlineData('–', true)]
    [InlineData('ж', true)]
    [InlineData('ש', false)]
    [InlineData('漢', false)]
    [InlineData('\uE123', false)]
    public void The_typeface_knows_what_it_can_print(char letter, bool covered) => Assert.Equal(covered, PaperFonts.Covers(new Rune(letter)));

    [Fact]
    public void A_file_that_is_no_font_is_refused() => Assert.ThrowsAny<Exception>(() => new CharacterMap("no font at all"u8.ToArray()));

    [Fact]
    public void Every_font_of_a_paper_is_embedded()
    {
        using var pdf = new ReadPdf(Papers.CustomerReport(Samples.Simple, PaperSize.Letter));
        var fonts = pdf.Pages[0].Dictionary.Data["Resources"] is var resources
            ? pdf.Resolve<DictionaryToken>(pdf.Resolve<DictionaryToken>(resources).Data["Font"]).Data.Values.Select(pdf.Resolve<DictionaryToken>).ToList()
            : [];

        Assert.Equal(2, fonts.Count);
        Assert.All(fonts, font =>
        {
            var descendant = pdf.Resolve<DictionaryToken>(pdf.Resolve<ArrayToken>(font.Data["DescendantFonts"])[0]);
            var descriptor = pdf.Resolve<DictionaryToken>(descendant.Data["FontDescriptor"]);
            Assert.True(descriptor.Data.ContainsKey("FontFile2"));
            Assert.True(font.Data.ContainsKey("ToUnicode"));
        });
    }

    [Fact]
    public void The_licence_travels_with_the_fonts()
    {
        using var licence = new StreamReader(typeof(Papers).Assembly.GetManifestResourceStream("OFL.txt")!);

        Assert.Contains("SIL OPEN FONT LICENSE Version 1.1", licence.ReadToEnd(), StringComparison.Ordinal);
    }

    [Fact]
    public void The_library_knows_neither_database_nor_web()
    {
        var references = typeof(Papers).Assembly.GetReferencedAssemblies().Select(r => r.Name!);

        Assert.All(references, name => Assert.True(
            name.StartsWith("System", StringComparison.Ordinal) || name.StartsWith("PdfSharp", StringComparison.Ordinal) || name is "ShopDiag.Diagnosis" or "QRCoder", name));
    }
}
