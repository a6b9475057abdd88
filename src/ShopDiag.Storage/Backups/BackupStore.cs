using System.Collections.Immutable;
using Microsoft.Data.Sqlite;
using Microsoft.EntityFrameworkCore;
using ShopDiag.Storage.Opening;
using ShopDiag.Storage.People;
using ShopDiag.Storage.Personal;
using ShopDiag.Storage.Programs;
using ShopDiag.Storage.Rows;
using ShopDiag.Storage.Writing;

namespace ShopDiag.Storage.Backups;

/// <summary>
/// Backups of the shop: made while it works, looked into before they count, and put back whole. A backup holds the database, the photos and the recordings; not the keys of sign-ins and of the
/// certificate, which are made anew (docs/decisions/0010).
/// </summary>
public sealed class BackupStore : IDisposable
{
    private readonly ShopFolder _shop;
    private readonly BackupFolder _backups;
    private readonly BackupMaker _maker;
    private readonly WriteQueue _writer;
    private readonly ChangeBus _bus;
    private readonly IDbContextFactory<ShopDb> _contexts;
    private readonly TimeProvider _time;
    private readonly SemaphoreSlim _oneAtATime = new(1);

    internal BackupStore(ShopFolder shop, BackupFolder backups, BackupMaker maker, WriteQueue writer, ChangeBus bus, IDbContextFactory<ShopDb> contexts, TimeProvider time) =>
        (_shop, _backups, _maker, _writer, _bus, _contexts, _time) = (shop, backups, maker, writer, bus, contexts, time);

    /// <summary>The folder in which backups are kept.</summary>
    public string Folder => _backups.FullPath;

    /// <summary>True when the backups lie in the data folder, and so on the same disk as what they are to save.</summary>
    public bool IsBesideTheRecords => (Folder + Path.DirectorySeparatorChar).StartsWith(_shop.FullPath + Path.DirectorySeparatorChar, StringComparison.Ordinal);

    /// <summary>The backups that are kept, newest first.</summary>
    public ImmutableArray<BackupInfo> List() => _backups.List();

    /// <summary>Makes a backup. Throws <see cref="BackupException"/>, <see cref="IOException"/> or <see cref="UnauthorizedAccessException"/> when it cannot be made.</summary>
    public Task<BackupInfo> MakeAsync(BackupKind kind, IProgress<BackupProgress>? progress = null, CancellationToken cancel = default) =>
        AloneAsync(() => Task.Run(() => _maker.Make(kind, progress, cancel), cancel), cancel);

    /// <summary>Deletes the backups that need not be kept any longer; their names.</summary>
    public Task<ImmutableArray<string>> PruneAsync(BackupRetention keep, CancellationToken cancel = default)
    {
        ArgumentNullException.ThrowIfNull(keep);
        return AloneAsync(
            () =>
            {
                ImmutableArray<string> superfluous = [.. keep.Superfluous(_backups.List(), _time.LocalTimeZone).Select(b => b.Name)];
                _backups.Delete(superfluous);
                return Task.FromResult(superfluous);
            },
            cancel);
    }

    /// <summary>Writes a backup that is kept into one ZIP file, as <see cref="WriteAsync(Stream, IProgress{BackupProgress}?, CancellationToken)"/> does. Throws <see cref="BackupException"/> when there is none of that name.</summary>
    public async Task WriteAsync(string name, Stream zip, CancellationToken cancel = default)
    {
        ArgumentNullException.ThrowIfNull(zip);
        await AloneAsync(
            () => Task.Run(
                () =>
                {
                    BackupZip.Write(zip, _backups, name, null, cancel);
                    return true;
                },
                cancel),
            cancel).ConfigureAwait(false);
    }

    /// <summary>
    /// Writes a backup made now into one ZIP file: <c>backup.json</c>, <c>shop.db</c>, <c>photos/</c>, <c>recordings/</c>. Whole when this returns; the stream is left open.
    /// </summary>
    public async Task<BackupInfo> WriteAsync(Stream zip, IProgress<BackupProgress>? progress = null, CancellationToken cancel = default)
    {
        ArgumentNullException.ThrowIfNull(zip);
        var made = await MakeAsync(BackupKind.Asked, progress, cancel).ConfigureAwait(false);
        await AloneAsync(
            () => Task.Run(
                () =>
                {
                    BackupZip.Write(zip, _backups, made.Name, progress, cancel);
                    return true;
                },
                cancel),
            cancel).ConfigureAwait(false);
        return made;
    }

    /// <summary>
    /// Puts a backup that is kept back in place of everything there is now, which is itself kept first: the name of that backup, or null when there was nothing to keep. Pages begin again
    /// (<see cref="ChangeBus.Replaced"/>). Customers erased since then stay erased. Throws <see cref="BackupException"/> when the backup is damaged or newer, and then nothing has changed.
    /// </summary>
    public Task<string?> RestoreAsync(string name, IProgress<BackupProgress>? progress = null, CancellationToken cancel = default) => AloneAsync(
        () => RestoreAsync(
            staged =>
            {
                var manifest = _backups.Read(name);
                File.Copy(_backups.DatabaseOf(name), staged);
                return Task.FromResult((manifest, (Func<string, Stream?>)(file => Open(KeptFiles.PathIn(_backups.Files, file)))));
            },
            progress,
            cancel),
        cancel);

    /// <summary>The same from a ZIP file that <see cref="WriteAsync(Stream, IProgress{BackupProgress}?, CancellationToken)"/> wrote.</summary>
    public Task<string?> RestoreFileAsync(string file, IProgress<BackupProgress>? progress = null, CancellationToken cancel = default) => AloneAsync(
        async () =>
        {
            using var zip = BackupZip.Open(file);
            return await RestoreAsync(async staged => (await BackupZip.StageAsync(zip, staged, cancel).ConfigureAwait(false), name => zip.GetEntry(name)?.Open()), progress, cancel).ConfigureAwait(false);
        },
        cancel);

    /// <summary>Looks over the records, the files beside them and all backups. Changes nothing.</summary>
    public Task<ShopCheck> CheckAsync(CancellationToken cancel = default) => AloneAsync(
        async () =>
        {
            string expected;
            var db = _contexts.CreateDbContext();
            await using (db.ConfigureAwait(false))
            {
                expected = db.Database.GetMigrations().Last();
            }

            return await Task.Run(() => ShopChecks.Run(_shop.FullPath, _shop.DatabaseFile, _backups, expected, cancel), cancel).ConfigureAwait(false);
        },
        cancel);

    /// <inheritdoc/>
    public void Dispose() => _oneAtATime.Dispose();

    private static FileStream? Open(string path) => File.Exists(path) ? new(path, FileMode.Open, FileAccess.Read, FileShare.Read) : null;

    private async Task<string?> RestoreAsync(Func<string, Task<(BackupManifest Manifest, Func<string, Stream?> Open)>> stage, IProgress<BackupProgress>? progress, CancellationToken cancel)
    {
        using var staged = StagedRestore.In(_shop);
        progress?.Report(new("Checking the backup"));
        var (manifest, open) = await stage(staged.Database).ConfigureAwait(false);
        await staged.PrepareAsync(manifest.Database.Sha256, cancel).ConfigureAwait(false);
        await EraseAgainAsync(staged.Database, cancel).ConfigureAwait(false);
        await PutFilesAsync(staged.Database, manifest, open, progress, cancel).ConfigureAwait(false);

        string? before = null;
        await _writer.RunAloneAsync(
            () =>
            {
                progress?.Report(new("Keeping what is there now"));
                before = IsEmpty() ? null : KeepBefore(progress, cancel);
                progress?.Report(new("Putting the records back"));
                staged.Replace(_shop);
                return Task.CompletedTask;
            },
            cancel).ConfigureAwait(false);
        _bus.PublishReplaced();
        return before;
    }

    private string KeepBefore(IProgress<BackupProgress>? progress, CancellationToken cancel)
    {
        try
        {
            return _maker.Make(BackupKind.BeforeRestore, progress, cancel).Name;
        }
        catch (BackupException e)
        {
            throw new BackupException($"What is there now could not be kept first, so nothing was changed: {e.Message} If the records are damaged, stop ShopDiag and use its verb restore, which sets them aside.", e);
        }
    }

    private bool IsEmpty()
    {
        using var database = SqliteFile.Open(_shop.DatabaseFile);
        return database.Number("SELECT (SELECT count(*) FROM Orders) + (SELECT count(*) FROM Settings)") == 0;
    }

    /// <summary>Neither an erased customer nor a revoked token must come back with an older backup.</summary>
    private async Task EraseAgainAsync(string staged, CancellationToken cancel)
    {
        List<ErasureRow> erased;
        List<string> held;
        var live = _contexts.CreateDbContext();
        await using (live.ConfigureAwait(false))
        {
            erased = await live.Erasures.AsNoTracking().ToListAsync(cancel).ConfigureAwait(false);
            held = await live.Tokens.Where(t => t.RevokedAt == null).Select(t => t.SecretHash).ToListAsync(cancel).ConfigureAwait(false);
        }

        var db = new ShopDb(ShopDbFactory.Options($"Data Source={staged};Pooling=False"));
        await using (db.ConfigureAwait(false))
        {
            var transaction = await db.Database.BeginTransactionAsync(cancel).ConfigureAwait(false);
            await using (transaction.ConfigureAwait(false))
            {
                var write = new WriteScope(db, _time.GetUtcNow().UtcDateTime, Actor.Program);
                foreach (var row in erased)
                {
                    await CustomerErasure.ApplyAsync(write, row.CustomerId, row.By, row.At).ConfigureAwait(false);
                    await db.SaveChangesAsync(cancel).ConfigureAwait(false);
                }

                await TokenStore.RevokeAllButAsync(db, held, write.Now).ConfigureAwait(false);
                await db.SaveChangesAsync(cancel).ConfigureAwait(false);
                await Summaries.KeepAsync(db, write.ChangedOrders, cancel).ConfigureAwait(false);
                await transaction.CommitAsync(cancel).ConfigureAwait(false);
            }

            await db.Database.ExecuteSqlAsync($"PRAGMA journal_mode=DELETE", cancel).ConfigureAwait(false);
        }
    }

    /// <summary>Puts back the files that are missing here or were cut off. Before the database: files without a row are only space.</summary>
    private async Task PutFilesAsync(string staged, BackupManifest manifest, Func<string, Stream?> open, IProgress<BackupProgress>? progress, CancellationToken cancel)
    {
        var named = DatabaseCheck.Of(staged).Files;
        var files = manifest.Files.Where(f => named.Contains(f.Name)).ToList();
        for (var i = 0; i < files.Count; i++)
        {
            cancel.ThrowIfCancellationRequested();
            progress?.Report(new("Putting photos and recordings back", (double)i / files.Count));
            var there = new FileInfo(KeptFiles.PathIn(_shop.FullPath, files[i].Name));
            if (!there.Exists || there.Length != files[i].Bytes)
            {
                await PutAsync(files[i], there.FullName, open, cancel).ConfigureAwait(false);
            }
        }
    }

    private static async Task PutAsync(BackupFile file, string path, Func<string, Stream?> open, CancellationToken cancel)
    {
        var content = open(file.Name) ?? throw new BackupException($"The backup is damaged: {file.Name} is missing in it. Use another backup.");
        await using (content.ConfigureAwait(false))
        {
            OwnerOnly.MakeFolder(Path.GetDirectoryName(path)!);
            var part = path + ".part";
            File.Delete(part);
            try
            {
                var target = OwnerOnly.Create(part);
                await using (target.ConfigureAwait(false))
                {
                    await BoundedCopy.RunAsync(content, target, file.Bytes, cancel).ConfigureAwait(false);
                    target.Flush(flushToDisk: true);
                }

                if (BackupMaker.Described(file.Name, part) != file)
                {
                    throw new BackupException($"The backup is damaged: {file.Name} is not the file that was written. Use another backup.");
                }

                File.Move(part, path, overwrite: true);
            }
            finally
            {
                File.Delete(part);
            }
        }
    }

    private async Task<T> AloneAsync<T>(Func<Task<T>> work, CancellationToken cancel)
    {
        await _oneAtATime.WaitAsync(cancel).ConfigureAwait(false);
        try
        {
            using var held = await _backups.HoldAsync(cancel).ConfigureAwait(false);
            return await work().ConfigureAwait(false);
        }
        catch (SqliteException e) when (StorageTrouble.Of(e) is { } trouble)
        {
            throw new BackupException(trouble, e);
        }
        catch (InvalidDataException e)
        {
            throw new BackupException("The backup is damaged: something in it cannot be unpacked. Use another backup.", e);
        }
        finally
        {
            _oneAtATime.Release();
        }
    }
}
