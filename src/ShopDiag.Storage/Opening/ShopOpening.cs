using Microsoft.Data.Sqlite;
using Microsoft.EntityFrameworkCore;
using ShopDiag.Storage.Backups;
using ShopDiag.Storage.Rows;
using ShopDiag.Storage.Writing;

namespace ShopDiag.Storage.Opening;

/// <summary>Brings the shop's database up to date, once a process.</summary>
internal sealed class ShopOpening(ShopFolder folder, ShopDbFactory contexts, BackupMaker backups, StorageTrouble trouble) : IDisposable
{
    private readonly SemaphoreSlim _once = new(1, 1);

    /// <summary>Takes the folder, clears what a killed start left behind, migrates. Again is harmless.</summary>
    public async Task OpenAsync(CancellationToken cancel)
    {
        await _once.WaitAsync(cancel).ConfigureAwait(false);
        try
        {
            if (!folder.IsReady)
            {
                await OpenOrReadAsync(cancel).ConfigureAwait(false);
                folder.Ready();
            }
        }
        finally
        {
            _once.Release();
        }
    }

    /// <summary>
    /// The same where a backup is about to be put back: records that are damaged are set aside first, and an empty database takes their place. The folder that they are in now; null when they were sound.
    /// </summary>
    public async Task<string?> OpenForRestoreAsync(CancellationToken cancel)
    {
        folder.TakeLock();
        string? aside = null;
        if (folder.HasDatabase && !DatabaseCheck.Of(folder.DatabaseFile).IsSound)
        {
            aside = backups.SetAside();
        }

        await OpenAsync(cancel).ConfigureAwait(false);
        return aside;
    }

    /// <summary>
    /// Looks at the records without taking the folder, so that a script can print a paper while the shop is being served.
    /// Nothing is made or migrated: there must be a database of this version.
    /// </summary>
    public async Task OpenForReadingAsync(CancellationToken cancel)
    {
        if (folder.IsReady)
        {
            return;
        }

        if (!folder.HasDatabase)
        {
            throw new DataFolderException($"There are no records in {folder.FullPath}. Name the shop's folder with --data or in {DataFolder.Variable}.");
        }

        await ReadyForReadingAsync(cancel).ConfigureAwait(false);
        folder.Ready();
    }

    /// <inheritdoc/>
    public void Dispose() => _once.Dispose();

    private async Task ReadyForReadingAsync(CancellationToken cancel)
    {
        var db = contexts.CreateForOpening();
        await using (db.ConfigureAwait(false))
        {
            await RefuseNewerAsync(db, cancel).ConfigureAwait(false);
            if ((await db.Database.GetPendingMigrationsAsync(cancel).ConfigureAwait(false)).Any() || await Summaries.AreMissingAsync(db, cancel).ConfigureAwait(false))
            {
                throw new DataFolderException($"The records in {folder.FullPath} were written by an older ShopDiag. Serve them once with this version to bring them up to date.");
            }
        }
    }

    /// <summary>Where nothing can be written but everything is there to be read, it is opened for reading, and every try to save says why it cannot be.</summary>
    private async Task OpenOrReadAsync(CancellationToken cancel)
    {
        try
        {
            folder.TakeLock();
            StagedRestore.Sweep(folder);
            await MigrateInWordsAsync(cancel).ConfigureAwait(false);
        }
        catch (DataFolderException e) when (e.InnerException is { } cause && StorageTrouble.Of(cause) is not null && folder.IsWholeWithoutLog)
        {
            folder.ReadOnly();
            await ReadyForReadingAsync(cancel).ConfigureAwait(false);
            trouble.Note(cause);
        }
    }

    private async Task MigrateInWordsAsync(CancellationToken cancel)
    {
        try
        {
            await MigrateAsync(cancel).ConfigureAwait(false);
        }
        catch (SqliteException e) when (e.SqliteErrorCode is 11 or 26)
        {
            throw new DataFolderException($"The records in {folder.FullPath} are damaged ({e.Message}). Put the last good backup back with the verb restore: it sets the damaged ones aside first.", e);
        }
        catch (SqliteException e) when (StorageTrouble.Of(e) is { } trouble)
        {
            throw new DataFolderException($"The records in {folder.FullPath} cannot be opened. {trouble}", e);
        }
    }

    /// <summary>Makes the summaries that an older version left out.</summary>
    internal Task FillAsync(CancellationToken cancel) => Summaries.FillAsync(contexts.CreateForOpening, cancel);

    private async Task MigrateAsync(CancellationToken cancel)
    {
        var db = contexts.CreateForOpening();
        await using (db.ConfigureAwait(false))
        {
            await RefuseNewerAsync(db, cancel).ConfigureAwait(false);
            await ForgetAbandonedMigrationAsync(db, cancel).ConfigureAwait(false);
            // Nothing is written where nothing is to be done: a shop whose disk is full must still open.
            if ((await db.Database.GetPendingMigrationsAsync(cancel).ConfigureAwait(false)).Any())
            {
                await KeepAsync(db, cancel).ConfigureAwait(false);
                await db.Database.MigrateAsync(cancel).ConfigureAwait(false);
            }

            if (await Summaries.AreMissingAsync(db, cancel).ConfigureAwait(false))
            {
                await FillAsync(cancel).ConfigureAwait(false);
            }
        }
    }

    /// <summary>The records of an older version are kept before they are changed.</summary>
    private async Task KeepAsync(ShopDb db, CancellationToken cancel)
    {
        if (!(await db.Database.GetAppliedMigrationsAsync(cancel).ConfigureAwait(false)).Any())
        {
            return;
        }

        try
        {
            await Task.Run(() => backups.Make(BackupKind.BeforeUpgrade, null, cancel), cancel).ConfigureAwait(false);
        }
        catch (Exception e) when (e is BackupException or IOException or UnauthorizedAccessException)
        {
            throw new DataFolderException($"The records in {folder.FullPath} are of an older version and have to be brought up to date, but could not be backed up first: {e.Message} Nothing was changed.", e);
        }
    }

    /// <summary>An older program would not know the newer columns and could write rows that make no sense there.</summary>
    private async Task RefuseNewerAsync(ShopDb db, CancellationToken cancel)
    {
        var known = db.Database.GetMigrations();
        var applied = await db.Database.GetAppliedMigrationsAsync(cancel).ConfigureAwait(false);
        if (applied.Except(known, StringComparer.Ordinal).Any())
        {
            throw new DataFolderException($"The records in {folder.FullPath} were written by a newer ShopDiag. Use that version or a later one.");
        }
    }

    /// <summary>
    /// A process that dies while it migrates leaves its row in the lock table, and the next start would wait for it for ever.
    /// We hold the folder's lock, so whoever left the row is gone.
    /// </summary>
    private static async Task ForgetAbandonedMigrationAsync(ShopDb db, CancellationToken cancel)
    {
        var tables = await db.Database
            .SqlQuery<int>($"SELECT count(*) AS Value FROM sqlite_master WHERE type = 'table' AND name = '__EFMigrationsLock'")
            .SingleAsync(cancel).ConfigureAwait(false);
        if (tables > 0 && await db.Database.SqlQuery<int>($"SELECT count(*) AS Value FROM __EFMigrationsLock").SingleAsync(cancel).ConfigureAwait(false) > 0)
        {
            await db.Database.ExecuteSqlAsync($"DELETE FROM __EFMigrationsLock", cancel).ConfigureAwait(false);
        }
    }
}
