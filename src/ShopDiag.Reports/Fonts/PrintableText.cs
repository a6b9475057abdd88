using System.Globalization;
using System.Text;

namespace ShopDiag.Reports.Fonts;

/// <summary>
/// Turns any text into text that the typeface can print: what has no glyph becomes a question mark and is counted, so that
/// nothing vanishes silently. Line breaks are kept as <c>\n</c>; other control and invisible characters, which print nothing anyway, go.
/// </summary>
internal sealed class PrintableText
{
    private const char Substitute = '?';
    private const int NoBreakSpace = 0x00A0;
    private const int NoBreakHyphen = 0x2011;

    /// <summary>How many characters (as a reader counts them) were replaced so far.</summary>
    public int Substituted { get; private set; }

    /// <summary>The printable form; empty for null.</summary>
    public string Of(string? text)
    {
        if (string.IsNullOrEmpty(text))
        {
            return "";
        }

        var result = new StringBuilder(text.Length);
        var elements = StringInfo.GetTextElementEnumerator(Whole(text).Normalize(NormalizationForm.FormC));
        while (elements.MoveNext())
        {
            Append(result, elements.GetTextElement());
        }

        return result.ToString();
    }

    /// <summary>For titles and bookmarks: one line, and without the characters that PDFsharp writes into its XML metadata unescaped.</summary>
    public string OfTitle(string? text) => string.Join(' ', Of(text)
        .Replace("&", "", StringComparison.Ordinal)
        .Replace("<", "", StringComparison.Ordinal)
        .Replace(">", "", StringComparison.Ordinal)
        .Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries));

    /// <summary>One kind of line break, and no half surrogate pairs (they become U+FFFD), on which normalisation would throw.</summary>
    private static string Whole(string text)
    {
        var whole = new StringBuilder(text.Length);
        foreach (var rune in text.ReplaceLineEndings("\n").EnumerateRunes())
        {
            whole.Append(rune.ToString());
        }

        return whole.ToString();
    }

    /// <summary>One character as a reader sees it: a letter with its accents, an emoji with its modifiers.</summary>
    private void Append(StringBuilder result, string element)
    {
        var visible = new StringBuilder();
        foreach (var rune in element.EnumerateRunes().Select(Plain).Where(r => r is not null))
        {
            if (!IsPrinted(rune!.Value))
            {
                Substituted++;
                result.Append(Substitute);
                return;
            }

            visible.Append(rune.Value.ToString());
        }

        result.Append(visible);
    }

    /// <summary>A blank for any blank, nothing for what is invisible, the rune itself otherwise.</summary>
    private static Rune? Plain(Rune rune) => rune.Value == '\n' ? rune : Rune.GetUnicodeCategory(rune) switch
    {
        UnicodeCategory.SpaceSeparator => rune.Value == NoBreakSpace && PaperFonts.Covers(rune) ? rune : new Rune(' '),
        UnicodeCategory.Control => rune.Value == '\t' ? new Rune(' ') : null,
        UnicodeCategory.Format => null,
        _ when IsVariationSelector(rune) => null,
        _ when rune.Value == NoBreakHyphen && !PaperFonts.Covers(rune) => new Rune('-'),
        _ => rune,
    };

    /// <summary>The typeface draws U+FFFD as a black diamond that means nothing to a customer; it counts as not printable.</summary>
    private static bool IsPrinted(Rune rune) => rune.Value == '\n' || (rune != Rune.ReplacementChar && PaperFonts.Covers(rune));

    private static bool IsVariationSelector(Rune rune) => rune.Value is >= 0xFE00 and <= 0xFE0F or >= 0xE0100 and <= 0xE01EF;
}
