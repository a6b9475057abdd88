using System.IO.Compression;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Infrastructure;
using Microsoft.EntityFrameworkCore.Migrations;
using ShopDiag.Storage.Backups;
using ShopDiag.Storage.Opening;
using ShopDiag.Storage.Rows;
using ShopDiag.Storage.Writing;

namespace ShopDiag.Storage.Data;

/// <summary>What went out or came in.</summary>
/// <param name="Rows">Rows of all tables.</param>
/// <param name="Files">Photos and recordings.</param>
public readonly record struct ShopDataCount(long Rows, int Files);

/// <summary>
/// All of the shop's data in an open form (docs/data.md), out and in: a ZIP file with <c>records.jsonl</c>, a line a row, and the photos and recordings. The same data give the same bytes, and what
/// came in goes out as it was.
/// </summary>
public sealed class ShopData
{
    /// <summary>Name of the lines in the ZIP file.</summary>
    internal const string LinesName = "records.jsonl";

    // ZIP has no entries without a time, and the time of the export would make two exports of the same data differ.
    private static readonly DateTimeOffset NoTime = new(1980, 1, 1, 0, 0, 0, TimeSpan.Zero);

    private readonly ShopFolder _shop;
    private readonly IDbContextFactory<ShopDb> _contexts;
    private readonly WriteQueue _writer;
    private readonly ChangeBus _bus;

    internal ShopData(ShopFolder shop, IDbContextFactory<ShopDb> contexts, WriteQueue writer, ChangeBus bus) => (_shop, _contexts, _writer, _bus) = (shop, contexts, writer, bus);

    /// <summary>Writes everything out, one moment of it, also while others write. The stream is left open.</summary>
    public ShopDataCount Export(Stream zip, CancellationToken cancel = default)
    {
        ArgumentNullException.ThrowIfNull(zip);
        using var archive = new ZipArchive(zip, ZipArchiveMode.Create, leaveOpen: true);
        using var database = SqliteFile.Open(_shop.DatabaseFile);
        using var db = _contexts.CreateDbContext();
        // Every table as it was at the first look.
        database.Execute("BEGIN DEFERRED");
        var tables = RecordTable.All(db);
        using (var lines = Entry(archive, LinesName, CompressionLevel.Optimal))
        {
            RecordWriter.WriteHead(lines, DatabaseCheck.SchemaOf(database));
            foreach (var table in tables)
            {
                cancel.ThrowIfCancellationRequested();
                RecordWriter.WriteRows(lines, database, table);
            }
        }

        return new(tables.Sum(t => database.Number($"SELECT count(*) FROM \"{t.Name}\"")), AddFiles(archive, KeptFiles.NamedBy(database), cancel));
    }

    /// <summary>
    /// Reads a file that <see cref="Export"/> wrote, this version's or an older one's, into a shop in which there is nothing yet. Throws <see cref="ShopDataException"/> when it cannot be read or the
    /// shop is not empty; nothing is taken then.
    /// </summary>
    public async Task<ShopDataCount> ImportAsync(string file, CancellationToken cancel = default)
    {
        using var archive = Open(file);
        using var staged = StagedRestore.In(_shop);
        try
        {
            await FillAsync(staged.Database, archive, cancel).ConfigureAwait(false);
            var check = DatabaseCheck.Of(staged.Database);
            if (!check.IsSound)
            {
                throw new ShopDataException("Some rows of the file point at others that are not in it. It is not whole.");
            }

            var files = await PutFilesAsync(archive, check.Files, cancel).ConfigureAwait(false);
            long rows = 0;
            await _writer.RunAloneAsync(
                () =>
                {
                    rows = TakeOver(staged);
                    return Task.CompletedTask;
                },
                cancel).ConfigureAwait(false);
            _bus.PublishReplaced();
            return new(rows, files);
        }
        catch (InvalidDataException e)
        {
            throw new ShopDataException("The file is damaged: something in it cannot be unpacked.", e);
        }
    }

    /// <summary>Adds files of the data folder to an archive; those that are gone are passed over. Their number.</summary>
    internal int AddFiles(ZipArchive archive, IEnumerable<string> names, CancellationToken cancel)
    {
        var count = 0;
        foreach (var name in names)
        {
            cancel.ThrowIfCancellationRequested();
            var path = KeptFiles.PathIn(_shop.FullPath, name);
            if (File.Exists(path))
            {
                using var content = new FileStream(path, FileMode.Open, FileAccess.Read, FileShare.ReadWrite | FileShare.Delete);
                // A JPEG does not get smaller.
                using var entry = Entry(archive, name, name.EndsWith(".jpg", StringComparison.Ordinal) ? CompressionLevel.NoCompression : CompressionLevel.Optimal);
                content.CopyTo(entry);
                count++;
            }
        }

        return count;
    }

    /// <summary>A new entry of an archive, for writing.</summary>
    internal static Stream Entry(ZipArchive archive, string name, CompressionLevel level)
    {
        var entry = archive.CreateEntry(name, level);
        entry.LastWriteTime = NoTime;
        return entry.Open();
    }

    private static ZipArchive Open(string file)
    {
        try
        {
            return ZipFile.OpenRead(file);
        }
        catch (InvalidDataException e)
        {
            throw new ShopDataException($"{file} is no ZIP file, or it is damaged.", e);
        }
    }

    /// <summary>Makes a database of the version that the file was written by, fills it, and brings it up to date.</summary>
    private static async Task FillAsync(string path, ZipArchive archive, CancellationToken cancel)
    {
        var entry = archive.GetEntry(LinesName) ?? throw new ShopDataException($"There is no {LinesName} in the file: it is not what the verb export wrote.");
        var stream = await entry.OpenAsync(cancel).ConfigureAwait(false);
        await using (stream.ConfigureAwait(false))
        {
            var lines = RecordReader.Lines(stream);
            var schema = RecordReader.ReadHead(lines);
            var db = new ShopDb(ShopDbFactory.Options($"Data Source={path};Pooling=False"));
            await using (db.ConfigureAwait(false))
            {
                if (!db.Database.GetMigrations().Contains(schema, StringComparer.Ordinal))
                {
                    throw new ShopDataException("Line 1: it was written by a newer ShopDiag. Use that version or a later one.");
                }

                await db.GetService<IMigrator>().MigrateAsync(schema, cancel).ConfigureAwait(false);
                using (var database = SqliteFile.Open(path))
                {
                    new RecordReader(database).ReadRows(lines, cancel);
                }

                await db.Database.MigrateAsync(cancel).ConfigureAwait(false);
                await Summaries.FillAsync(() => new ShopDb(ShopDbFactory.Options($"Data Source={path};Pooling=False")), cancel).ConfigureAwait(false);
                await db.Database.ExecuteSqlAsync($"PRAGMA journal_mode=DELETE", cancel).ConfigureAwait(false);
            }
        }
    }

    private async Task<int> PutFilesAsync(ZipArchive archive, IEnumerable<string> names, CancellationToken cancel)
    {
        var count = 0;
        foreach (var name in names)
        {
            if (archive.GetEntry(name) is not { } entry)
            {
                continue;
            }

            var path = KeptFiles.PathIn(_shop.FullPath, name);
            OwnerOnly.MakeFolder(Path.GetDirectoryName(path)!);
            var part = path + ".part";
            File.Delete(part);
            var from = await entry.OpenAsync(cancel).ConfigureAwait(false);
            await using (from.ConfigureAwait(false))
            {
                var to = OwnerOnly.Create(part);
                await using (to.ConfigureAwait(false))
                {
                    await BoundedCopy.RunAsync(from, to, Recordings.RecordingStore.LargestBytes, cancel).ConfigureAwait(false);
                    to.Flush(flushToDisk: true);
                }
            }

            File.Move(part, path, overwrite: true);
            count++;
        }

        return count;
    }

    // Between two transactions of the writer: nobody can begin a shop between the look and the taking over.
    private long TakeOver(StagedRestore staged)
    {
        using var db = _contexts.CreateDbContext();
        var tables = RecordTable.All(db);
        using (var live = SqliteFile.Open(_shop.DatabaseFile))
        {
            if (tables.Any(t => live.Number($"SELECT count(*) FROM \"{t.Name}\"") > 0))
            {
                throw new ShopDataException("There is a shop in this folder already. What was exported goes into an empty one only: name another folder with --data.");
            }
        }

        staged.Replace(_shop);
        using var filled = SqliteFile.Open(_shop.DatabaseFile);
        return tables.Sum(t => filled.Number($"SELECT count(*) FROM \"{t.Name}\""));
    }
}
