using ShopDiag.Reports.Drawing;
using ShopDiag.Reports.Layout;
using ShopDiag.Reports.Models;

namespace ShopDiag.Reports.Writing;

/// <summary>Adds photos to a paper, two a row, each with its caption below.</summary>
internal static class PhotoBlocks
{
    /// <summary>Adds the photos under a heading of their own; nothing where there are none.</summary>
    public static void Add(PaperBuilder paper, IReadOnlyList<PhotoOnPaper> photos)
    {
        if (photos.Count == 0)
        {
            return;
        }

        paper.Section("Photos");
        foreach (var row in photos.Chunk(2))
        {
            paper.SideBySide(before: 6, [.. row.Select(photo => (0.5, (Action<PaperBuilder>)(cell => AddPhoto(cell, photo))))]);
        }
    }

    private static void AddPhoto(PaperBuilder cell, PhotoOnPaper photo)
    {
        var hasCaption = !string.IsNullOrWhiteSpace(photo.Caption);
        cell.Add(new PhotoFigure(photo, cell.Pictures.Read(photo.Picture), cell.Set, Math.Min(cell.Width, 300)) { KeepWithNext = hasCaption });
        if (hasCaption)
        {
            cell.Add(new Paragraph([new Run(photo.Caption)], cell.Set, cell.Width, cell.Set.Look.Table) { Before = 2 });
        }
    }
}
