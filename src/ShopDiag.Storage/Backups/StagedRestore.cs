using Microsoft.EntityFrameworkCore;
using ShopDiag.Storage.Opening;
using ShopDiag.Storage.Rows;
using ShopDiag.Storage.Writing;

namespace ShopDiag.Storage.Backups;

/// <summary>A backup on its way back: its database lies in <c>restore.part/</c> of the data folder until it is known to be good and of this version.</summary>
internal sealed class StagedRestore : IDisposable
{
    private readonly string _folder;

    private StagedRestore(string folder) => _folder = folder;

    /// <summary>The database, checked and brought up to date.</summary>
    public string Database => Path.Combine(_folder, BackupFolder.DatabaseName);

    /// <summary>An empty place for one in a data folder.</summary>
    public static StagedRestore In(ShopFolder shop)
    {
        var staged = new StagedRestore(FolderIn(shop));
        staged.Dispose();
        OwnerOnly.MakeFolder(staged._folder);
        return staged;
    }

    /// <summary>Takes away what a restore left behind that was killed: a copy of customers' data that nobody would look for.</summary>
    public static void Sweep(ShopFolder shop) => new StagedRestore(FolderIn(shop)).Dispose();

    private static string FolderIn(ShopFolder shop) => Path.Combine(shop.FullPath, "restore.part");

    /// <summary>Looks into the database and brings it up to this version. Throws <see cref="BackupException"/> for one that is damaged, is no shop's, or is newer.</summary>
    public async Task PrepareAsync(string expectedSha256, CancellationToken cancel)
    {
        if (BackupMaker.Described(BackupFolder.DatabaseName, Database).Sha256 != expectedSha256)
        {
            throw new BackupException("The backup is damaged: its database is not the one that was written. Use another backup.");
        }

        var check = DatabaseCheck.Of(Database);
        if (!check.IsSound || check.Schema.Length == 0)
        {
            throw new BackupException($"The backup cannot be put back: {(check.IsSound ? "it is no database of ShopDiag." : check.Integrity)} Use another backup.");
        }

        var db = new ShopDb(ShopDbFactory.Options($"Data Source={Database};Pooling=False"));
        await using (db.ConfigureAwait(false))
        {
            if (!db.Database.GetMigrations().Contains(check.Schema, StringComparer.Ordinal))
            {
                throw new BackupException("This backup was made by a newer ShopDiag. Use that version or a later one.");
            }

            await db.Database.MigrateAsync(cancel).ConfigureAwait(false);
            await Summaries.FillAsync(() => new ShopDb(ShopDbFactory.Options($"Data Source={Database};Pooling=False")), cancel).ConfigureAwait(false);
            await db.Database.ExecuteSqlAsync($"PRAGMA journal_mode=DELETE", cancel).ConfigureAwait(false);
        }
    }

    /// <summary>
    /// Puts it in the place of the database in use, in one transaction of that: who reads sees the one or the other, and a power cut leaves the one or the other.
    /// </summary>
    public void Replace(ShopFolder shop)
    {
        using var source = SqliteFile.Open(Database);
        using var target = SqliteFile.Open(shop.DatabaseFile);
        source.BackupDatabase(target);
        target.Execute("PRAGMA journal_mode=WAL");
    }

    /// <summary>Takes it away.</summary>
    public void Dispose()
    {
        if (Directory.Exists(_folder))
        {
            Directory.Delete(_folder, recursive: true);
        }
    }
}
