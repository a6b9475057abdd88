using System.IO.Compression;
using System.Text;
using ShopDiag.Storage.Opening;

namespace ShopDiag.Storage.Backups;

/// <summary>A backup as one file, to be taken away.</summary>
internal static class BackupZip
{
    /// <summary>Longest <c>backup.json</c> that is read, bytes: a line for each of a million files.</summary>
    private const long LongestManifest = 200_000_000;

    /// <summary>Largest database that is read, bytes.</summary>
    private const long LargestDatabase = 100_000_000_000;

    /// <summary>Writes a backup that is kept. The stream need not be one that can be wound back.</summary>
    public static void Write(Stream stream, BackupFolder backups, string name, IProgress<BackupProgress>? progress, CancellationToken cancel)
    {
        var manifest = backups.Read(name);
        using var zip = new ZipArchive(stream, ZipArchiveMode.Create, leaveOpen: true, Encoding.UTF8);
        Add(zip, BackupManifest.FileName, new MemoryStream(Encoding.UTF8.GetBytes(manifest.Write())), CompressionLevel.Optimal);
        Add(zip, BackupFolder.DatabaseName, Read(backups.DatabaseOf(name)), CompressionLevel.Optimal);
        for (var i = 0; i < manifest.Files.Length; i++)
        {
            cancel.ThrowIfCancellationRequested();
            progress?.Report(new("Packing photos and recordings", (double)i / manifest.Files.Length));
            var file = manifest.Files[i].Name;
            // A JPEG does not get smaller.
            Add(zip, file, Read(KeptFiles.PathIn(backups.Files, file)), file.EndsWith(".jpg", StringComparison.Ordinal) ? CompressionLevel.NoCompression : CompressionLevel.Fastest);
        }
    }

    /// <summary>Opens one; throws <see cref="BackupException"/> for a file that is none.</summary>
    public static ZipArchive Open(string file)
    {
        try
        {
            return ZipFile.OpenRead(file);
        }
        catch (InvalidDataException e)
        {
            throw new BackupException($"{file} is no backup of ShopDiag, or it is damaged.", e);
        }
    }

    /// <summary>Unpacks the database to a path and answers what the backup says about itself.</summary>
    public static async Task<BackupManifest> StageAsync(ZipArchive zip, string database, CancellationToken cancel)
    {
        using var text = new MemoryStream();
        await UnpackAsync(zip, BackupManifest.FileName, text, LongestManifest, cancel).ConfigureAwait(false);
        var manifest = BackupManifest.Read(Encoding.UTF8.GetString(text.ToArray()));
        var target = OwnerOnly.Create(database);
        await using (target.ConfigureAwait(false))
        {
            await UnpackAsync(zip, BackupFolder.DatabaseName, target, Math.Min(manifest.Database.Bytes, LargestDatabase), cancel).ConfigureAwait(false);
        }

        return manifest;
    }

    private static async Task UnpackAsync(ZipArchive zip, string name, Stream to, long most, CancellationToken cancel)
    {
        var entry = zip.GetEntry(name) ?? throw new BackupException($"This is no backup of ShopDiag: there is no {name} in it.");
        try
        {
            var from = await entry.OpenAsync(cancel).ConfigureAwait(false);
            await using (from.ConfigureAwait(false))
            {
                await BoundedCopy.RunAsync(from, to, most, cancel).ConfigureAwait(false);
            }
        }
        catch (InvalidDataException e)
        {
            throw new BackupException($"The backup is damaged: {name} in it cannot be unpacked.", e);
        }
    }

    private static void Add(ZipArchive zip, string name, Stream content, CompressionLevel level)
    {
        using (content)
        using (var entry = zip.CreateEntry(name, level).Open())
        {
            content.CopyTo(entry);
        }
    }

    private static FileStream Read(string path) => new(path, FileMode.Open, FileAccess.Read, FileShare.Read);
}
