using System.Collections.Immutable;
using ShopDiag.Diagnosis;
using ShopDiag.Diagnosis.BenchTests;
using ShopDiag.Storage.Orders;
using ShopDiag.Storage.Photos;

namespace ShopDiag.Web.Photos;

/// <summary>A photo as a paper needs it.</summary>
/// <param name="Jpeg">The picture, upright.</param>
/// <param name="Width">Its width in pixels.</param>
/// <param name="Height">Its height in pixels.</param>
/// <param name="Caption">What it shows, or empty.</param>
/// <param name="Strokes">What was drawn on it; to be drawn as <see cref="MarkLook"/> says.</param>
/// <param name="Test">Id of the test it was taken at.</param>
/// <param name="At">Where on the engine.</param>
/// <param name="Stage">Before or after the repair.</param>
public sealed record PhotoForPaper(byte[] Jpeg, int Width, int Height, string Caption, ImmutableArray<PhotoStroke> Strokes, string Test, Place At, Stage Stage);

/// <summary>
/// How marks look, on the screen and on paper: a line with round ends and a white edge, in parts of the picture's long side. A strong magenta hardly occurs in an engine bay, and printed in grey it is still
/// dark enough against its edge. A stroke of one point is a dot.
/// </summary>
public static class MarkLook
{
    /// <summary>The line's colour, as CSS writes it.</summary>
    public const string Colour = "#c8006a";

    /// <summary>Width of the line.</summary>
    public const double Line = 0.007;

    /// <summary>Width of line and white edge together, drawn below the line.</summary>
    public const double Edge = 0.014;
}

/// <summary>The photos that were chosen for the customer report.</summary>
public sealed class PhotosForPaper(PhotoStore photos)
{
    /// <summary>The chosen photos of an order, oldest first. One whose picture is gone is left out: a report without it is better than none.</summary>
    public async Task<ImmutableArray<PhotoForPaper>> OfAsync(RepairOrder order, CancellationToken cancel = default)
    {
        ArgumentNullException.ThrowIfNull(order);
        var chosen = ImmutableArray.CreateBuilder<PhotoForPaper>();
        foreach (var photo in (await photos.OfOrderAsync(order.Id, cancel)).Where(p => p.InReport))
        {
            if (await ReadAsync(photo.Id, cancel) is { } jpeg)
            {
                chosen.Add(new(jpeg, photo.Width, photo.Height, photo.Caption, photo.Marks, photo.Test, photo.At, photo.Stage));
            }
        }

        return chosen.ToImmutable();
    }

    private async Task<byte[]?> ReadAsync(Guid id, CancellationToken cancel)
    {
        await using var file = photos.OpenFile(id, PhotoSize.Full);
        if (file is null)
        {
            return null;
        }

        var bytes = new byte[file.Length];
        await file.ReadExactlyAsync(bytes, cancel);
        return bytes;
    }
}
