using System.Collections.Immutable;
using Microsoft.EntityFrameworkCore;
using ShopDiag.Storage.Orders;
using ShopDiag.Storage.People;
using ShopDiag.Storage.Rows;
using ShopDiag.Storage.Writing;

namespace ShopDiag.Storage.Photos;

/// <summary>Photos of orders: rows in the database, pictures as files beside it. Every change is a command with an id made by the client: repeating it is harmless.</summary>
public sealed class PhotoStore
{
    /// <summary>Photos on one order at most, those deleted and not yet gone among them: far more than a job needs, far less than fills a disk.</summary>
    public const int MostOnOrder = 300;

    /// <summary>Longest caption, characters: two lines on paper.</summary>
    public const int LongestCaption = 200;

    /// <summary>How long a deleted photo can be got back.</summary>
    public static readonly TimeSpan KeptAfterRemoval = TimeSpan.FromDays(30);

    private readonly IDbContextFactory<ShopDb> _contexts;
    private readonly PhotoFiles _files;
    private readonly ShopWriter _writer;

    internal PhotoStore(IDbContextFactory<ShopDb> contexts, ShopWriter writer, PhotoFiles files) => (_contexts, _writer, _files) = (contexts, writer, files);

    /// <summary>The photos of an order that were not deleted, oldest first.</summary>
    public async Task<ImmutableArray<Photo>> OfOrderAsync(Guid orderId, CancellationToken cancel = default)
    {
        var db = _contexts.CreateDbContext();
        await using (db.ConfigureAwait(false))
        {
            var rows = await db.Photos.AsNoTracking().Where(p => p.OrderId == orderId && p.RemovedAt == null)
                .OrderBy(p => p.TakenAt).ThenBy(p => p.Id).ToListAsync(cancel).ConfigureAwait(false);
            return [.. rows.Select(r => r.ToRecord())];
        }
    }

    /// <summary>One photo, deleted or not; null when there is none.</summary>
    public async Task<Photo?> GetAsync(Guid id, CancellationToken cancel = default)
    {
        var db = _contexts.CreateDbContext();
        await using (db.ConfigureAwait(false))
        {
            return (await db.Photos.AsNoTracking().SingleOrDefaultAsync(p => p.Id == id, cancel).ConfigureAwait(false))?.ToRecord();
        }
    }

    /// <summary>
    /// Puts a photo with its two pictures, both JPEG, on its order; it is there once both are on disk. One with the same key on the same order is left as it is, its pictures too.
    /// Throws <see cref="IOException"/> when the disk does not take them.
    /// </summary>
    public async Task<SaveResult> AddAsync(NewPhoto photo, ReadOnlyMemory<byte> full, ReadOnlyMemory<byte> small, CancellationToken cancel = default)
    {
        ArgumentNullException.ThrowIfNull(photo);
        if (photo.Id == Guid.Empty)
        {
            throw new ArgumentException("Make an id for each photo.", nameof(photo));
        }

        if (await GetAsync(photo.Id, cancel).ConfigureAwait(false) is { } known)
        {
            return PhotoCommands.Known(known.OrderId, photo.OrderId);
        }

        // The pictures first: a photo on the order without a picture would be a loss, a picture without a row is only space.
        await _files.KeepAsync(photo.Id, PhotoSize.Full, full, cancel).ConfigureAwait(false);
        await _files.KeepAsync(photo.Id, PhotoSize.Small, small, cancel).ConfigureAwait(false);
        var result = await _writer.SaveAsync(Permission.WorkOnOrders, w => PhotoCommands.AddAsync(w, photo), cancel).ConfigureAwait(false);
        if (result.Outcome == SaveOutcome.Refused && await GetAsync(photo.Id, CancellationToken.None).ConfigureAwait(false) is null)
        {
            _files.Delete(photo.Id);
        }

        return result;
    }

    /// <summary>Says what a photo shows. <paramref name="baseValue"/> is what the client saw before typing: when the database holds neither that nor the new text, it is a conflict; null skips the check.</summary>
    public Task<SaveResult> SetCaptionAsync(Guid id, string caption, string? baseValue, Guid commandId, string by, CancellationToken cancel = default) =>
        SetAsync(id, PhotoField.Caption, caption, baseValue, commandId, by, cancel);

    /// <summary>Replaces the marks on a photo (<see cref="PhotoMarks"/>). <paramref name="baseValue"/> as for the caption.</summary>
    public Task<SaveResult> SetMarksAsync(Guid id, string marks, string? baseValue, Guid commandId, string by, CancellationToken cancel = default) =>
        SetAsync(id, PhotoField.Marks, marks, baseValue, commandId, by, cancel);

    /// <summary>Says whether a photo is printed in the customer report.</summary>
    public Task<SaveResult> SetInReportAsync(Guid id, bool inReport, Guid commandId, string by, CancellationToken cancel = default) => ChangeAsync(
        id, inReport ? "print photo" : "do not print photo", commandId, by, (row, _) => row.InReport = inReport, cancel);

    /// <summary>Deletes a photo, or gets it back.</summary>
    public Task<SaveResult> SetRemovedAsync(Guid id, bool removed, Guid commandId, string by, CancellationToken cancel = default) => ChangeAsync(
        id, removed ? "delete photo" : "get photo back", commandId, by, (row, now) => row.RemovedAt = removed ? row.RemovedAt ?? now : null, cancel);

    /// <summary>A picture, or null when it is gone.</summary>
    public FileStream? OpenFile(Guid id, PhotoSize size) => _files.Open(id, size);

    /// <summary>Deletes rows and pictures of photos that were deleted <see cref="KeptAfterRemoval"/> ago, and unfinished files. Called when the shop is opened. The number of photos that went.</summary>
    public async Task<int> SweepAsync(CancellationToken cancel = default)
    {
        _files.SweepParts();
        var gone = await _writer.RunAsync(
            Permission.KeepData,
            async w =>
            {
                var before = w.Now - KeptAfterRemoval;
                var rows = await w.Db.Photos.Where(p => p.RemovedAt < before).ToListAsync(CancellationToken.None).ConfigureAwait(false);
                w.Db.Photos.RemoveRange(rows);
                return rows;
            },
            cancel).ConfigureAwait(false);

        // After the commit: a picture without a row is only space.
        gone.ForEach(p => _files.Delete(p.Id));
        return gone.Count;
    }

    private Task<SaveResult> SetAsync(Guid id, PhotoField field, string value, string? baseValue, Guid commandId, string by, CancellationToken cancel)
    {
        ArgumentNullException.ThrowIfNull(value);
        ArgumentNullException.ThrowIfNull(by);
        return _writer.SaveAsync(Permission.WorkOnOrders, w => PhotoCommands.SetAsync(w, id, field, value, baseValue, commandId, w.Who(by)), cancel);
    }

    private Task<SaveResult> ChangeAsync(Guid id, string what, Guid commandId, string by, Action<PhotoRow, DateTime> change, CancellationToken cancel)
    {
        ArgumentNullException.ThrowIfNull(by);
        return _writer.SaveAsync(Permission.WorkOnOrders, w => PhotoCommands.ChangeAsync(w, id, what, commandId, w.Who(by), change), cancel);
    }
}
