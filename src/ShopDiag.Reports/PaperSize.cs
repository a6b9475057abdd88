using ShopDiag.Diagnosis;

namespace ShopDiag.Reports;

/// <summary>The sheets that the papers are laid out for.</summary>
public enum PaperSize
{
    /// <summary>US letter, 8.5 by 11 inches (612 by 792 points). The default.</summary>
    Letter,

    /// <summary>ISO 216 A4, 210 by 297 mm (595.28 by 841.89 points).</summary>
    A4,
}

/// <summary>Reads a paper size as settings and command lines write it.</summary>
public static class PaperSizes
{
    /// <summary>Reads <c>letter</c> or <c>a4</c>, in any case and with blanks around it; anything else is an error at <c>paper</c>.</summary>
    public static Parsed<PaperSize> Parse(string? text) => text?.Trim().ToUpperInvariant() switch
    {
        "LETTER" => PaperSize.Letter,
        "A4" => PaperSize.A4,
        _ => new InputError("paper", "The paper must be letter or a4."),
    };
}
