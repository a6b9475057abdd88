using System.Collections.Immutable;

namespace ShopDiag.Reports.Models;

/// <summary>What an area of a chart is filled with, told apart without colour.</summary>
public enum ChartFill
{
    /// <summary>A light grey with a thin outline, so that a black line shows on it.</summary>
    Solid,

    /// <summary>Empty with a dashed outline.</summary>
    Blank,

    /// <summary>Pale slanting lines.</summary>
    Slanting,

    /// <summary>The same slanting the other way.</summary>
    SlantingBack,
}

/// <summary>How strong a line of a chart is.</summary>
public enum ChartStroke
{
    /// <summary>A pale hairline.</summary>
    Grid,

    /// <summary>A thin line.</summary>
    Thin,

    /// <summary>A strong line.</summary>
    Strong,
}

/// <summary>Where a text of a chart stands about its point.</summary>
public enum ChartAnchor
{
    /// <summary>It begins there.</summary>
    Start,

    /// <summary>Its middle is there.</summary>
    Middle,

    /// <summary>It ends there.</summary>
    End,
}

/// <summary>An upright rectangle, in the unit of the chart's width, from its upper left corner.</summary>
/// <param name="Fill">What it is filled with.</param>
/// <param name="X">Its left edge.</param>
/// <param name="Y">Its upper edge.</param>
/// <param name="Width">Its width.</param>
/// <param name="Height">Its height.</param>
public readonly record struct ChartAreaOnPaper(ChartFill Fill, double X, double Y, double Width, double Height);

/// <summary>A line from point to point, at least two.</summary>
/// <param name="Stroke">How strong.</param>
/// <param name="Dashes">Lengths of dashes and gaps in turn, in the unit of the chart; empty for an unbroken line.</param>
/// <param name="Points">The points.</param>
public sealed record ChartLineOnPaper(ChartStroke Stroke, ImmutableArray<double> Dashes, ImmutableArray<(double X, double Y)> Points);

/// <summary>A line of text.</summary>
/// <param name="X">Where its anchor is.</param>
/// <param name="Baseline">The line it stands on.</param>
/// <param name="Text">The text.</param>
/// <param name="Anchor">Where it stands about x.</param>
public sealed record ChartTextOnPaper(double X, double Baseline, string Text, ChartAnchor Anchor);

/// <summary>A chart that somebody else has laid out: drawn as it is, in order areas, lines, texts, as wide as the text of the page.</summary>
public sealed record ChartOnPaper
{
    private readonly double _width;
    private readonly double _height;
    private readonly double _textSize;

    /// <summary>Said above it.</summary>
    public required string Title { get; init; }

    /// <summary>What it shows, for those who do not see it.</summary>
    public required string Description { get; init; }

    /// <summary>Its width, above 0.</summary>
    /// <exception cref="ArgumentOutOfRangeException">Not above 0.</exception>
    public required double Width { get => _width; init => _width = Above0(value, nameof(Width)); }

    /// <summary>Its height, above 0 and no more than its width: it has to fit a page.</summary>
    /// <exception cref="ArgumentOutOfRangeException">Not above 0.</exception>
    public required double Height { get => _height; init => _height = Above0(value, nameof(Height)); }

    /// <summary>Size of its text, above 0.</summary>
    /// <exception cref="ArgumentOutOfRangeException">Not above 0.</exception>
    public required double TextSize { get => _textSize; init => _textSize = Above0(value, nameof(TextSize)); }

    /// <summary>The areas.</summary>
    public ImmutableArray<ChartAreaOnPaper> Areas { get; init; } = [];

    /// <summary>The lines.</summary>
    public ImmutableArray<ChartLineOnPaper> Lines { get; init; } = [];

    /// <summary>The texts.</summary>
    public ImmutableArray<ChartTextOnPaper> Texts { get; init; } = [];

    private static double Above0(double value, string name) => value > 0 && double.IsFinite(value) ? value : throw new ArgumentOutOfRangeException(name, value, "A chart has a size above 0.");
}
