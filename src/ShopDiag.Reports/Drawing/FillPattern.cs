using PdfSharp.Drawing;
using ShopDiag.Diagnosis.Workups;
using ShopDiag.Reports.Layout;

namespace ShopDiag.Reports.Drawing;

/// <summary>How a shape is filled: the pattern tells it apart without colour, the colour comes second.</summary>
internal enum FillPattern
{
    /// <summary>Empty, dashed outline.</summary>
    Blank,

    /// <summary>Dots.</summary>
    Dots,

    /// <summary>Level lines.</summary>
    Level,

    /// <summary>Slanting lines.</summary>
    Slanting,

    /// <summary>Slanting lines both ways, thick outline.</summary>
    Crossed,

    /// <summary>Upright lines.</summary>
    Upright,
}

/// <summary>Draws the patterns.</summary>
internal static class FillPatterns
{
    private const double Spacing = 4.5;

    /// <summary>The pattern of a cylinder's condition.</summary>
    public static FillPattern Of(CylinderCondition condition) => condition switch
    {
        CylinderCondition.Unknown => FillPattern.Blank,
        CylinderCondition.Contributing => FillPattern.Dots,
        CylinderCondition.Misfiring => FillPattern.Level,
        CylinderCondition.Weak => FillPattern.Slanting,
        CylinderCondition.Dead => FillPattern.Crossed,
        CylinderCondition.CannotTell => FillPattern.Upright,
        _ => throw new ArgumentOutOfRangeException(nameof(condition), condition, "Unknown condition of a cylinder."),
    };

    /// <summary>Draws a filled circle. The lines are cut to it by arithmetic: clipping would break the marked content apart.</summary>
    public static void Circle(IInk ink, FillPattern pattern, double x, double y, double radius)
    {
        var pen = new XPen(Colour(pattern), 1.1);
        switch (pattern)
        {
            case FillPattern.Blank:
                break;
            case FillPattern.Dots:
                Dots(ink, new XSolidBrush(Colour(pattern)), x, y, radius);
                break;
            case FillPattern.Level:
                Chords(ink, pen, x, y, radius, 0);
                break;
            case FillPattern.Slanting:
                Chords(ink, pen, x, y, radius, -45);
                break;
            case FillPattern.Crossed:
                Chords(ink, pen, x, y, radius, -45);
                Chords(ink, pen, x, y, radius, 45);
                break;
            case FillPattern.Upright:
                Chords(ink, pen, x, y, radius, 90);
                break;
            default:
                throw new ArgumentOutOfRangeException(nameof(pattern), pattern, "Unknown pattern.");
        }

        ink.Circle(Outline(pattern), null, x, y, radius);
    }

    private static XColor Colour(FillPattern pattern) => pattern switch
    {
        FillPattern.Dots => Style.Green,
        FillPattern.Level or FillPattern.Slanting => Style.Orange,
        FillPattern.Crossed => Style.Vermilion,
        _ => Style.Grey,
    };

    private static XPen Outline(FillPattern pattern) => pattern switch
    {
        FillPattern.Blank => new XPen(Style.Black, 0.8) { DashStyle = XDashStyle.Dash },
        FillPattern.Crossed => new XPen(Style.Black, 2.2),
        _ => new XPen(Style.Black, 1),
    };

    private static void Chords(IInk ink, XPen pen, double x, double y, double radius, double degrees)
    {
        var (sin, cos) = Math.SinCos(degrees * Math.PI / 180);
        for (var d = Spacing / 2; d < radius; d += Spacing)
        {
            var half = Math.Sqrt((radius * radius) - (d * d));
            foreach (var offset in new[] { d, -d })
            {
                double middleX = x - (offset * sin), middleY = y + (offset * cos);
                ink.Line(pen, middleX - (half * cos), middleY - (half * sin), middleX + (half * cos), middleY + (half * sin));
            }
        }
    }

    private static void Dots(IInk ink, XBrush brush, double x, double y, double radius)
    {
        const double dot = 0.9;
        var steps = (int)(radius / Spacing);
        for (var i = -steps; i <= steps; i++)
        {
            for (var j = -steps; j <= steps; j++)
            {
                double dx = i * Spacing, dy = j * Spacing;
                if ((dx * dx) + (dy * dy) < (radius - dot) * (radius - dot))
                {
                    ink.Circle(null, brush, x + dx, y + dy, dot);
                }
            }
        }
    }
}
