using System.Collections.Immutable;

namespace ShopDiag.Reports.Models;

/// <summary>A photo with what was marked on it.</summary>
public sealed record PhotoOnPaper
{
    /// <summary>
    /// A picture that <see cref="Papers.CanPrint"/>, pixels upright: a turn noted beside them (EXIF orientation) is not looked at. It goes into the file as
    /// it is. What cannot be printed leaves an empty frame that says so.
    /// </summary>
    public required ReadOnlyMemory<byte> Picture { get; init; }

    /// <summary>What it shows, in a few words.</summary>
    public string Caption { get; init; } = "";

    /// <summary>What was drawn on it.</summary>
    public ImmutableArray<PhotoMark> Marks { get; init; } = [];
}

/// <summary>Something drawn on a photo: a <see cref="PhotoStroke"/> or a <see cref="PhotoCircle"/>.</summary>
public abstract record PhotoMark
{
    private protected PhotoMark()
    {
    }
}

/// <summary>A line drawn by finger.</summary>
/// <param name="Points">Its points; a single one is a dot.</param>
public sealed record PhotoStroke(ImmutableArray<InkPoint> Points) : PhotoMark;

/// <summary>A circle around a spot.</summary>
public sealed record PhotoCircle : PhotoMark
{
    /// <summary>A circle.</summary>
    /// <param name="centre">Its centre.</param>
    /// <param name="radius">Its radius as a share of the photo's width, above 0 and at most 1.</param>
    public PhotoCircle(InkPoint centre, double radius) => (Centre, Radius) = (centre, radius is > 0 and <= 1
        ? radius
        : throw new ArgumentOutOfRangeException(nameof(radius), radius, "A radius must be above 0 and at most 1."));

    /// <summary>Its centre.</summary>
    public InkPoint Centre { get; }

    /// <summary>Its radius as a share of the photo's width.</summary>
    public double Radius { get; }
}
