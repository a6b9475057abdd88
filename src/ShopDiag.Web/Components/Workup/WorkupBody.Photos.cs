using System.Collections.Immutable;
using Microsoft.AspNetCore.Components;
using ShopDiag.Diagnosis;
using ShopDiag.Diagnosis.BenchTests;
using ShopDiag.Storage.Photos;
using ShopDiag.Web.Components.PhotoViews;
using ShopDiag.Web.Orders;
using ShopDiag.Web.Photos;

namespace ShopDiag.Web.Components.WorkupViews;

/// <content>Photos: those beside the open cell or cylinder, and the one that is looked at. While one is, the rest of the page is only hidden: what was typed stays as it is.</content>
public sealed partial class WorkupBody
{
    private OrderPhotos? _photos;
    private Guid? _photo;
    private Guid? _removedPhoto;

    [Inject] private PhotoStore PhotoStore { get; set; } = null!;

    /// <summary>The photos that belong to what is open.</summary>
    private ImmutableArray<Photo> PhotosHere => (_flow?.Cell, _cylinder) switch
    {
        _ when _photos is null => [],
        ({ } cell, _) => _photos.Of(cell),
        (null, { } cylinder) => _photos.At(cylinder, _session!.View!.Stage),
        _ => [],
    };

    /// <summary>The photo that is looked at, or null.</summary>
    private Photo? OpenPhoto => _photo is { } id ? PhotosHere.FirstOrDefault(p => p.Id == id) : null;

    private async Task ReadPhotosAsync()
    {
        _photos ??= new OrderPhotos(PhotoStore, Live.Order.Id);
        await _photos.ReadAsync();
        StateHasChanged();
    }

    private string PhotoName(Photo photo) => NameOf(OrderPhotos.CellOf(photo));

    private string NameOf(CellKey cell) => $"{Knowledge.Test(cell.Test)?.Title ?? cell.Test}, {cell.At}{(cell.Stage == Stage.After ? ", after the repair" : "")}";

    private void ShowPhoto(Guid id) => (_photo, _removedPhoto) = (id, null);

    private void MovePhoto(int by)
    {
        var next = PhotosHere.IndexOf(OpenPhoto!) + by;
        _photo = next >= 0 && next < PhotosHere.Length ? PhotosHere[next].Id : _photo;
    }

    private void ClosePhoto()
    {
        var id = _photo!.Value;
        _photo = null;
        _afterRender = b => b.FocusAsync(PhotoThumbs.IdOf(id), stay: true);
    }

    private Task PhotoDeletedAsync()
    {
        (_removedPhoto, _photo) = (_photo, null);
        _afterRender = b => b.FocusAsync(PhotoThumbs.UndoId, stay: true);
        return ReadPhotosAsync();
    }

    private async Task GetPhotoBackAsync(Guid id)
    {
        await With.Commands.RunAsync(ChangePhoto.Kind, Guid.CreateVersion7(), CommandJson.Write(new ChangePhoto(id, null, false, With.Tablet.By)));
        _removedPhoto = null;
        await ReadPhotosAsync();
        _afterRender = b => b.FocusAsync(PhotoThumbs.IdOf(id), stay: true);
    }
}
