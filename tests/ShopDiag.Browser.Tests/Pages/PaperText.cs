using UglyToad.PdfPig;
using UglyToad.PdfPig.DocumentLayoutAnalysis.TextExtractor;

namespace ShopDiag.Browser.Tests.Pages;

/// <summary>The text of a paper.</summary>
internal static class PaperText
{
    /// <summary>In the order it was written, with one blank between words: columns that stand side by side do not run into each other, and a line may end where it pleases.</summary>
    public static string Of(byte[] pdf)
    {
        using var paper = PdfDocument.Open(pdf);
        var text = string.Join(' ', paper.GetPages().Select(p => ContentOrderTextExtractor.GetText(p)));
        return string.Join(' ', text.Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries));
    }
}
