using System.Collections.Immutable;

namespace ShopDiag.Reports.Models;

/// <summary>A point of something drawn by hand, as shares of the width and height of what it is drawn on: (0, 0) is the upper left corner.</summary>
public readonly record struct InkPoint
{
    /// <summary>A point; what lies beyond the edge (a finger that left the pad) is taken to it. Not a number is refused.</summary>
    public InkPoint(double x, double y) => (X, Y) = (Bounded(x, nameof(x)), Bounded(y, nameof(y)));

    /// <summary>From the left, 0 to 1.</summary>
    public double X { get; }

    /// <summary>From the top, 0 to 1.</summary>
    public double Y { get; }

    private static double Bounded(double share, string name) => double.IsNaN(share)
        ? throw new ArgumentOutOfRangeException(name, share, "A point needs numbers.")
        : Math.Clamp(share, 0, 1);
}

/// <summary>A signature as it was drawn: one list of points for each stroke of the pen.</summary>
public sealed record SignatureOnPaper
{
    private readonly double _aspect = 3;

    /// <summary>The strokes; one of a single point is a dot.</summary>
    public ImmutableArray<ImmutableArray<InkPoint>> Strokes { get; init; } = [];

    /// <summary>Width of the pad over its height, from 0.2 to 20; 3 unless given.</summary>
    public double Aspect
    {
        get => _aspect;
        init => _aspect = value is >= 0.2 and <= 20
            ? value
            : throw new ArgumentOutOfRangeException(nameof(value), value, "A pad is from 0.2 to 20 times as wide as high.");
    }
}
