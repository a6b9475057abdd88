using System.Collections.Immutable;

namespace ShopDiag.Comebacks.Charts;

/// <summary>What a line is drawn with, told apart without colour.</summary>
public enum LinePattern
{
    /// <summary>Unbroken.</summary>
    Solid,

    /// <summary>Dashes.</summary>
    Dashed,

    /// <summary>Dots.</summary>
    Dotted,

    /// <summary>A dash and a dot in turn.</summary>
    DashDot,

    /// <summary>Long dashes.</summary>
    LongDash,

    /// <summary>A long dash and two dots in turn.</summary>
    LongDashDots,
}

/// <summary>What a rectangle is filled with, told apart without colour.</summary>
public enum AreaPattern
{
    /// <summary>Filled evenly, and so that a black line shows on it.</summary>
    Solid,

    /// <summary>Empty, with a dashed outline: small numbers.</summary>
    Blank,

    /// <summary>A pale tint or, without colour, slanting lines far apart: what lies between the ends of intervals.</summary>
    Slanting,

    /// <summary>The same for a second curve, slanting the other way.</summary>
    SlantingBack,
}

/// <summary>What something on a chart is, so that whoever draws it can choose strength and colour.</summary>
public enum ChartRole
{
    /// <summary>An axis.</summary>
    Axis,

    /// <summary>A line across at a tick.</summary>
    Grid,

    /// <summary>A curve.</summary>
    Curve,

    /// <summary>The intervals along a curve.</summary>
    Band,

    /// <summary>A mark on a curve where watching stopped.</summary>
    Censored,

    /// <summary>A bar.</summary>
    Bar,

    /// <summary>The interval about a bar's end.</summary>
    Whisker,

    /// <summary>Text.</summary>
    Label,
}

/// <summary>Where a text stands about its point.</summary>
public enum TextAnchor
{
    /// <summary>It begins there.</summary>
    Start,

    /// <summary>Its middle is there.</summary>
    Middle,

    /// <summary>It ends there.</summary>
    End,
}

/// <summary>A point; x from the left, y from the top, in the unit of the chart's width.</summary>
/// <param name="X">From the left.</param>
/// <param name="Y">From the top.</param>
public readonly record struct ChartPoint(double X, double Y);

/// <summary>A line through at least two points.</summary>
/// <param name="Role">What it is.</param>
/// <param name="Pattern">What it is drawn with.</param>
/// <param name="Series">Which curve it belongs to, from 0; 0 for axes.</param>
/// <param name="Points">The points.</param>
public sealed record ChartLine(ChartRole Role, LinePattern Pattern, int Series, ImmutableArray<ChartPoint> Points);

/// <summary>An upright rectangle.</summary>
/// <param name="Role">What it is.</param>
/// <param name="Pattern">What it is filled with.</param>
/// <param name="Series">Which curve it belongs to, from 0.</param>
/// <param name="X">Its left edge.</param>
/// <param name="Y">Its upper edge.</param>
/// <param name="Width">Its width, from 0.</param>
/// <param name="Height">Its height, from 0.</param>
public sealed record ChartArea(ChartRole Role, AreaPattern Pattern, int Series, double X, double Y, double Width, double Height);

/// <summary>A line of text.</summary>
/// <param name="X">Where its anchor is.</param>
/// <param name="Baseline">The line it stands on, from the top.</param>
/// <param name="Text">The text.</param>
/// <param name="Anchor">Where it stands about x.</param>
public sealed record ChartText(double X, double Baseline, string Text, TextAnchor Anchor);

/// <summary>A chart's numbers as a table of text, for those who do not see it.</summary>
/// <param name="Headers">The heads of the columns.</param>
/// <param name="Rows">The rows, each as long as the heads; the first cell heads its row.</param>
public sealed record ChartTable(ImmutableArray<string> Headers, ImmutableArray<ImmutableArray<string>> Rows);

/// <summary>
/// A chart laid out in numbers: to be drawn as it is, in order areas, lines, texts, on a screen or on paper. All lies within its width and height, and no two texts
/// overlap by the measure it was laid out with.
/// </summary>
public sealed record Chart
{
    /// <summary>Width.</summary>
    public required double Width { get; init; }

    /// <summary>Height, in the same unit; less than there was room for where less is needed.</summary>
    public required double Height { get; init; }

    /// <summary>Size of its text, in the same unit.</summary>
    public required double TextSize { get; init; }

    /// <summary>What it shows, in a few words; not drawn in it, it stands above.</summary>
    public required string Title { get; init; }

    /// <summary>What there is to see, in a sentence or two: the alternative text.</summary>
    public required string Description { get; init; }

    /// <summary>Rectangles.</summary>
    public required ImmutableArray<ChartArea> Areas { get; init; }

    /// <summary>Lines.</summary>
    public required ImmutableArray<ChartLine> Lines { get; init; }

    /// <summary>Texts.</summary>
    public required ImmutableArray<ChartText> Texts { get; init; }

    /// <summary>The same as a table, whole also where the drawing leaves something out.</summary>
    public required ChartTable Table { get; init; }
}
