using System.Collections.Immutable;
using ShopDiag.Diagnosis;
using ShopDiag.Diagnosis.BenchTests;
using ShopDiag.Storage.Photos;
using ShopDiag.Web.Components.WorkupViews;

namespace ShopDiag.Web.Components.PhotoViews;

/// <summary>The photos of an order on one open page.</summary>
public sealed class OrderPhotos(PhotoStore store, Guid order)
{
    private int _asked;

    /// <summary>All of them that were not deleted, oldest first.</summary>
    public ImmutableArray<Photo> All { get; private set; } = [];

    /// <summary>How many there are in each cell that has any.</summary>
    public ImmutableDictionary<CellKey, int> Cells { get; private set; } = ImmutableDictionary<CellKey, int>.Empty;

    /// <summary>Reads them anew. An older answer that comes after a newer one is passed over.</summary>
    public async Task ReadAsync()
    {
        var asked = ++_asked;
        var read = await store.OfOrderAsync(order);
        if (asked == _asked)
        {
            (All, Cells) = (read, read.CountBy(CellOf).ToImmutableDictionary());
        }
    }

    /// <summary>The photos of a cell.</summary>
    public ImmutableArray<Photo> Of(CellKey cell) => [.. All.Where(p => CellOf(p) == cell)];

    /// <summary>The photos of one cylinder, of whatever test.</summary>
    public ImmutableArray<Photo> At(int cylinder, Stage stage) => [.. All.Where(p => p.At == Place.Cylinder(cylinder) && p.Stage == stage)];

    /// <summary>The cell that a photo belongs to.</summary>
    public static CellKey CellOf(Photo photo)
    {
        ArgumentNullException.ThrowIfNull(photo);
        return new(photo.Test, photo.At, photo.Stage);
    }
}
