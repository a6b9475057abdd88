using System.Collections.Immutable;
using System.Globalization;
using System.Security.Cryptography;
using ShopDiag.Storage.Opening;

namespace ShopDiag.Storage.Backups;

/// <summary>Makes one backup of a data folder that may be in use. Knows no version of the database, so that it can be asked before an upgrade.</summary>
internal sealed class BackupMaker(ShopFolder shop, BackupFolder backups, TimeProvider time)
{
    /// <summary>Room that must be left on the disk once the database is copied, bytes: the shop has to go on.</summary>
    private const long RoomToSpare = 16 * 1024 * 1024;

    /// <summary>
    /// Copies, looks into the copy, and keeps it. Throws <see cref="BackupException"/> when the copy is not sound, and what the disk throws; nothing half done is left that counts.
    /// </summary>
    public BackupInfo Make(BackupKind kind, IProgress<BackupProgress>? progress, CancellationToken cancel)
    {
        var now = time.GetUtcNow().UtcDateTime;
        var name = backups.NewName(kind, now);
        var part = backups.Begin(name);
        try
        {
            RefuseWithoutRoom();
            progress?.Report(new("Copying the records"));
            var database = Path.Combine(part, BackupFolder.DatabaseName);
            SqliteFile.CopyTo(shop.DatabaseFile, database);
            cancel.ThrowIfCancellationRequested();
            progress?.Report(new("Checking the copy"));
            var check = DatabaseCheck.Of(database);
            if (!check.IsSound)
            {
                throw new BackupException(check.Integrity == "ok"
                    ? string.Create(CultureInfo.InvariantCulture, $"The records are damaged: {check.BrokenReferences} entries point at others that are not there. Put the last good backup back.")
                    : $"The records are damaged: {check.Integrity} Put the last good backup back.");
            }

            // After the database: whatever the copy speaks of was on disk before.
            var files = CopyFiles(progress, cancel);
            var manifest = new BackupManifest
            {
                Kind = kind,
                MadeAt = now,
                Schema = check.Schema,
                Orders = check.Orders,
                Database = Described(BackupFolder.DatabaseName, database),
                Files = files,
                Missing = [.. check.Files.Except(files.Select(f => f.Name))],
            };
            WriteManifest(Path.Combine(part, BackupManifest.FileName), manifest);
            backups.Finish(name);
            return backups.List().Single(b => b.Name == name);
        }
        catch
        {
            Forget(part);
            throw;
        }
    }

    /// <summary>Moves damaged records, with their log, into a folder of their own among the backups: its path. Nobody else has them open.</summary>
    public string SetAside()
    {
        var aside = Path.Combine(backups.FullPath, string.Create(CultureInfo.InvariantCulture, $"{time.GetUtcNow():yyyyMMdd'T'HHmmss'Z'}-damaged-{Guid.NewGuid().ToString("N")[..8]}"));
        OwnerOnly.MakeFolder(backups.FullPath);
        OwnerOnly.MakeFolder(aside);
        foreach (var ending in new[] { "", "-wal", "-shm" })
        {
            var file = shop.DatabaseFile + ending;
            if (File.Exists(file))
            {
                File.Move(file, Path.Combine(aside, Path.GetFileName(file)));
            }
        }

        return aside;
    }

    /// <summary>Name, size and SHA-256 of a file.</summary>
    internal static BackupFile Described(string name, string path)
    {
        using var stream = new FileStream(path, FileMode.Open, FileAccess.Read, FileShare.ReadWrite | FileShare.Delete);
        return new(name, stream.Length, Convert.ToHexStringLower(SHA256.HashData(stream)));
    }

    private static void WriteManifest(string path, BackupManifest manifest)
    {
        using var stream = OwnerOnly.Create(path);
        using var text = new StreamWriter(stream, leaveOpen: true);
        text.Write(manifest.Write());
        text.Flush();
        stream.Flush(flushToDisk: true);
    }

    private static void Forget(string part)
    {
        if (Directory.Exists(part))
        {
            Directory.Delete(part, recursive: true);
        }
    }

    private void RefuseWithoutRoom()
    {
        var free = new DriveInfo(backups.FullPath).AvailableFreeSpace;
        var needed = new FileInfo(shop.DatabaseFile).Length + RoomToSpare;
        if (free < needed)
        {
            throw new BackupException(string.Create(CultureInfo.InvariantCulture, $"There is no room for a backup in {backups.FullPath}: {free / 1_000_000} MB are free, {needed / 1_000_000 + 1} MB are needed. Make room, or keep backups on another disk ({BackupFolder.Variable})."));
        }
    }

    /// <summary>Copies the photos and recordings that the backup before does not have. What it has of the same size is known by its SHA-256 from then.</summary>
    private ImmutableArray<BackupFile> CopyFiles(IProgress<BackupProgress>? progress, CancellationToken cancel)
    {
        var known = backups.List() is [var before, ..] ? backups.Read(before.Name).Files.ToDictionary(f => f.Name, StringComparer.Ordinal) : [];

        var names = KeptFiles.In(shop.FullPath).ToList();
        var files = ImmutableArray.CreateBuilder<BackupFile>(names.Count);
        foreach (var name in names)
        {
            cancel.ThrowIfCancellationRequested();
            progress?.Report(new("Copying photos and recordings", (double)files.Count / names.Count));
            if (Keep(name, known.GetValueOrDefault(name)) is { } kept)
            {
                files.Add(kept);
            }
        }

        return files.ToImmutable();
    }

    // Null for a file that was swept away meanwhile.
    private BackupFile? Keep(string name, BackupFile? known)
    {
        var (from, to) = (new FileInfo(KeptFiles.PathIn(shop.FullPath, name)), new FileInfo(KeptFiles.PathIn(backups.Files, name)));
        try
        {
            if (known is not null && to.Exists && to.Length == known.Bytes && from.Length == known.Bytes)
            {
                return known;
            }

            KeptFiles.Copy(from.FullName, to.FullName);
            return Described(name, to.FullName);
        }
        catch (FileNotFoundException)
        {
            return null;
        }
    }
}
