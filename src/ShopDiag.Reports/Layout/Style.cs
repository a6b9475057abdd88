using PdfSharp.Drawing;

namespace ShopDiag.Reports.Layout;

/// <summary>A size and weight of the typeface.</summary>
/// <param name="Size">Size in points.</param>
/// <param name="Bold">Bold or regular.</param>
internal readonly record struct Face(double Size, bool Bold)
{
    /// <summary>Distance from one baseline to the next, in points.</summary>
    public double Leading => Math.Round(Size * 1.27, 1, MidpointRounding.AwayFromZero);

    /// <summary>From the top of a line to its baseline, in points.</summary>
    public double Ascent => Size * 1.02;
}

/// <summary>The inks of all papers: few, and no decoration. Sizes that may be set tighter are in <see cref="Look"/>.</summary>
internal static class Style
{
    /// <summary>Running head and foot, in points.</summary>
    public const double Furniture = 8;

    /// <summary>All text.</summary>
    public static readonly XColor Black = XColor.FromArgb(0, 0, 0);

    /// <summary>Hairlines.</summary>
    public static readonly XColor Grey = XColor.FromArgb(140, 140, 140);

    /// <summary>Headings and rules. Okabe-Ito blue; 5.2:1 on white, enough for text (WCAG 2.2, 1.4.3).</summary>
    public static readonly XColor Blue = XColor.FromArgb(0, 114, 178);

    /// <summary>Patterns only, never text. Okabe-Ito vermilion.</summary>
    public static readonly XColor Vermilion = XColor.FromArgb(213, 94, 0);

    /// <summary>Patterns only. Okabe-Ito orange.</summary>
    public static readonly XColor Orange = XColor.FromArgb(230, 159, 0);

    /// <summary>Patterns only. Okabe-Ito bluish green.</summary>
    public static readonly XColor Green = XColor.FromArgb(0, 158, 115);
}

/// <summary>A sheet and its margins, in points.</summary>
internal sealed record PageGeometry(double Width, double Height)
{
    private const double Side = 50;
    private const double Head = 38;
    private const double Foot = 44;

    /// <summary>Where the text begins from the left.</summary>
    public double Left { get; } = Side;

    /// <summary>Width of the text.</summary>
    public double TextWidth { get; } = Width - (2 * Side);

    /// <summary>Where the text begins from the top.</summary>
    public double Top { get; } = Head;

    /// <summary>Where the text ends from the top; the foot stands below.</summary>
    public double Bottom { get; } = Height - Foot;

    /// <summary>A column of a width that never ends, to measure in.</summary>
    public static PageGeometry Endless(double textWidth) => new(textWidth + (2 * Side), 1e7);

    /// <summary>The sheet of a paper size, turned to lie on its long side where asked.</summary>
    public static PageGeometry Of(PaperSize paper, bool landscape)
    {
        var upright = Of(paper);
        return landscape ? new(upright.Height, upright.Width) : upright;
    }

    /// <summary>The sheet of a paper size, standing.</summary>
    public static PageGeometry Of(PaperSize paper) => paper switch
    {
        PaperSize.Letter => new(612, 792),
        PaperSize.A4 => new(595.28, 841.89),
        _ => throw new ArgumentOutOfRangeException(nameof(paper), paper, "Unknown paper size."),
    };
}
