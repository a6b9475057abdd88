using System.Collections.Immutable;
using Microsoft.EntityFrameworkCore;
using ShopDiag.Storage.Orders;
using ShopDiag.Storage.People;
using ShopDiag.Storage.Rows;
using ShopDiag.Storage.Writing;

namespace ShopDiag.Storage.Recordings;

/// <summary>
/// Recordings of balance runs: rows in the database, sound and logs as files beside it. The row is written when the recording begins, so that nothing of a run is lost with the
/// program. Every write names a state, so that repeating it is harmless.
/// </summary>
public sealed class RecordingStore
{
    /// <summary>Longest recording that is kept, seconds: what can be analysed.</summary>
    public const double LongestSeconds = 900;

    /// <summary>Largest file that is kept, bytes: the longest recording at 16 bits and 48 kHz in one channel, with room for its header.</summary>
    public const long LargestBytes = 90_000_000;

    /// <summary>How long a deleted recording can be got back.</summary>
    public static readonly TimeSpan KeptAfterRemoval = TimeSpan.FromDays(30);

    private readonly IDbContextFactory<ShopDb> _contexts;
    private readonly RecordingFiles _files;
    private readonly ShopWriter _writer;

    internal RecordingStore(IDbContextFactory<ShopDb> contexts, ShopWriter writer, RecordingFiles files) => (_contexts, _writer, _files) = (contexts, writer, files);

    /// <summary>The recordings of an order that were not deleted, newest first.</summary>
    public async Task<ImmutableArray<BalanceRecording>> OfOrderAsync(Guid orderId, CancellationToken cancel = default)
    {
        var db = _contexts.CreateDbContext();
        await using (db.ConfigureAwait(false))
        {
            var rows = await db.Recordings.AsNoTracking().Where(r => r.OrderId == orderId && r.RemovedAt == null)
                .OrderByDescending(r => r.MadeAt).ThenByDescending(r => r.Id).ToListAsync(cancel).ConfigureAwait(false);
            return [.. rows.Select(r => r.ToRecord())];
        }
    }

    /// <summary>One recording, deleted or not; null when there is none.</summary>
    public async Task<BalanceRecording?> GetAsync(Guid id, CancellationToken cancel = default)
    {
        var db = _contexts.CreateDbContext();
        await using (db.ConfigureAwait(false))
        {
            return (await db.Recordings.AsNoTracking().SingleOrDefaultAsync(r => r.Id == id, cancel).ConfigureAwait(false))?.ToRecord();
        }
    }

    /// <summary>Puts a recording on its order. <see cref="BalanceRecording.MadeAt"/> is set to now; one with the same key on the same order is left as it is.</summary>
    public Task<SaveResult> AddAsync(BalanceRecording recording, CancellationToken cancel = default)
    {
        ArgumentNullException.ThrowIfNull(recording);
        return _writer.SaveAsync(Permission.WorkOnOrders, w => AddAsync(w, recording), cancel);
    }

    /// <summary>Replaces what is known of the cancellations.</summary>
    public Task<SaveResult> SetPlanAsync(Guid id, RecordingPlan plan, CancellationToken cancel = default)
    {
        ArgumentNullException.ThrowIfNull(plan);
        return ChangeAsync(id, (row, _) => row.PlanJson = RecordingRow.Write(plan), cancel);
    }

    /// <summary>Says that a recording is whole, with its length and what was lost of it, in seconds.</summary>
    public Task<SaveResult> FinishAsync(Guid id, double seconds, double lostSeconds, CancellationToken cancel = default) =>
        ChangeAsync(id, (row, _) => (row.Seconds, row.LostSeconds, row.Finished) = (seconds, lostSeconds, true), cancel);

    /// <summary>Says whether its readings are on the order.</summary>
    public Task<SaveResult> SetConfirmedAsync(Guid id, bool confirmed, CancellationToken cancel = default) =>
        ChangeAsync(id, (row, now) => row.ConfirmedAt = confirmed ? row.ConfirmedAt ?? now : null, cancel);

    /// <summary>Deletes a recording, or gets it back. Its readings stay on the order.</summary>
    public Task<SaveResult> SetRemovedAsync(Guid id, bool removed, CancellationToken cancel = default) =>
        ChangeAsync(id, (row, now) => row.RemovedAt = removed ? row.RemovedAt ?? now : null, cancel, removed ? "delete recording" : "get recording back");

    /// <summary>A new file for a recording that is being made. Throws <see cref="IOException"/> when there is one already.</summary>
    public FileStream CreateFile(Guid id, RecordingKind kind) => _files.Create(id, kind);

    /// <summary>Keeps a recording that came whole: the file appears under its name only when all of it is on disk. The number of bytes.</summary>
    public Task<long> KeepFileAsync(Guid id, RecordingKind kind, Stream content, CancellationToken cancel = default)
    {
        ArgumentNullException.ThrowIfNull(content);
        return _files.KeepAsync(id, kind, content, cancel);
    }

    /// <summary>The file, or null when it is gone.</summary>
    public FileStream? OpenFile(Guid id, RecordingKind kind) => _files.Open(id, kind);

    /// <summary>Deletes a file that turned out to be no recording. For one with a row use <see cref="SetRemovedAsync"/>.</summary>
    public void DropFile(Guid id, RecordingKind kind) => _files.Delete(id, kind);

    /// <summary>Deletes the files and rows of recordings that were deleted <see cref="KeptAfterRemoval"/> ago, and unfinished uploads. Called when the shop is opened.</summary>
    public async Task<int> SweepAsync(CancellationToken cancel = default)
    {
        _files.SweepParts();
        var gone = await _writer.RunAsync(
            Permission.KeepData,
            async w =>
            {
                var before = w.Now - KeptAfterRemoval;
                var rows = await w.Db.Recordings.Where(r => r.RemovedAt < before).ToListAsync(CancellationToken.None).ConfigureAwait(false);
                w.Db.Recordings.RemoveRange(rows);
                return rows;
            },
            cancel).ConfigureAwait(false);

        // After the commit: a row without a file says so on the screen, a file without a row is only space.
        gone.ForEach(r => _files.Delete(r.Id, r.Kind));
        return gone.Count;
    }

    private static async Task<SaveResult> AddAsync(WriteScope write, BalanceRecording recording)
    {
        if (await write.OrderAsync(recording.OrderId).ConfigureAwait(false) is null)
        {
            return Answers.NoSuchOrder;
        }

        if (await write.Db.Recordings.AsNoTracking().SingleOrDefaultAsync(r => r.Id == recording.Id).ConfigureAwait(false) is { } known)
        {
            return known.OrderId == recording.OrderId
                ? new(SaveOutcome.AlreadySaved, "")
                : new(SaveOutcome.Refused, "", "This recording carries the key of a recording on another order. Nothing was saved.");
        }

        write.Db.Recordings.Add(new()
        {
            Id = recording.Id,
            OrderId = recording.OrderId,
            Kind = recording.Kind,
            MadeAt = write.Now,
            By = write.Who(recording.By),
            Stage = recording.Stage,
            Cylinders = recording.Cylinders,
            Method = PlainText.Line(recording.Method),
            PlanJson = RecordingRow.Write(recording.Plan),
            Seconds = recording.Seconds,
            LostSeconds = recording.LostSeconds,
            Finished = recording.Finished,
        });
        write.Record(recording.OrderId, recording.By, "add recording", recording.Id);
        write.Changed(recording.OrderId);
        return new(SaveOutcome.Saved, "");
    }

    private Task<SaveResult> ChangeAsync(Guid id, Action<RecordingRow, DateTime> change, CancellationToken cancel, string? what = null) => _writer.SaveAsync(
        Permission.WorkOnOrders,
        async w =>
        {
            if (await w.Db.Recordings.SingleOrDefaultAsync(r => r.Id == id).ConfigureAwait(false) is not { } row)
            {
                return new SaveResult(SaveOutcome.Refused, "", "This recording is no longer there.");
            }

            change(row, w.Now);
            if (what is not null)
            {
                w.Record(row.OrderId, row.By, what);
            }

            w.Changed(row.OrderId);
            return new SaveResult(SaveOutcome.Saved, "");
        },
        cancel);
}
