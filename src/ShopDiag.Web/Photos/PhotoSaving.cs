using ShopDiag.Storage.Orders;
using ShopDiag.Storage.Photos;
using ShopDiag.Web.Orders;
using ShopDiag.Web.Saving;

namespace ShopDiag.Web.Photos;

/// <summary>A switch on a photo, as the tablet's journal keeps it until it is in the database.</summary>
/// <param name="Photo">The photo.</param>
/// <param name="InReport">Whether it is printed in the customer report; null for no change.</param>
/// <param name="Removed">Whether it is deleted; null for no change.</param>
/// <param name="By">By whom.</param>
public sealed record ChangePhoto(Guid Photo, bool? InReport, bool? Removed, string By)
{
    /// <summary>The kind of command in the journal.</summary>
    public const string Kind = "photo";

    /// <summary>Does it.</summary>
    public Task<SaveResult> ApplyAsync(PhotoStore store, Guid id, CancellationToken cancel)
    {
        ArgumentNullException.ThrowIfNull(store);
        return (InReport, Removed) switch
        {
            ({ } inReport, null) => store.SetInReportAsync(Photo, inReport, id, By, cancel),
            (null, { } removed) => store.SetRemovedAsync(Photo, removed, id, By, cancel),
            _ => Task.FromResult(new SaveResult(SaveOutcome.Refused, "", "What the tablet kept says nothing about the photo.")),
        };
    }
}

/// <summary>Saves what was written about a photo, or drawn on it, whose page is no longer open.</summary>
public sealed class PhotoDrafts(PhotoStore photos, Tablet tablet) : IDraftHandler
{
    /// <summary>Name of the caption among the fields of a photo.</summary>
    public const string Caption = "caption";

    /// <summary>Name of the marks among the fields of a photo.</summary>
    public const string Marks = "marks";

    /// <inheritdoc/>
    public string Record => "photo";

    /// <summary>The key of a field in the journal.</summary>
    public static string Key(Guid photo, string field) => $"photo:{photo}:{field}";

    /// <inheritdoc/>
    public async Task<SaveResult?> SaveAsync(StrayDraft draft, CancellationToken cancel = default)
    {
        ArgumentNullException.ThrowIfNull(draft);
        return draft.Key.Split(':') is [_, var id, var field] && Guid.TryParse(id, out var photo)
            ? field switch
            {
                Caption => await photos.SetCaptionAsync(photo, draft.Value, draft.Base, draft.Id, tablet.By, cancel),
                Marks => await photos.SetMarksAsync(photo, draft.Value, draft.Base, draft.Id, tablet.By, cancel),
                _ => null,
            }
            : null;
    }
}

/// <summary>What photos need.</summary>
public static class PhotoServices
{
    /// <summary>Adds the handlers of commands and drafts, and the photos for paper.</summary>
    public static IServiceCollection AddPhotos(this IServiceCollection services) => services
        .AddScoped<PhotosForPaper>()
        .AddScoped<IDraftHandler, PhotoDrafts>()
        .AddScoped<ICommandHandler>(s => new JsonCommandHandler<ChangePhoto>(
            ChangePhoto.Kind, (change, id, cancel) => change.ApplyAsync(s.GetRequiredService<PhotoStore>(), id, cancel)));
}
