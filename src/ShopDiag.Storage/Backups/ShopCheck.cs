using System.Collections.Immutable;

namespace ShopDiag.Storage.Backups;

/// <summary>What a look over the whole data folder and its backups came to.</summary>
public sealed record ShopCheck
{
    /// <summary><c>ok</c>, or what SQLite found wrong in the database.</summary>
    public required string Integrity { get; init; }

    /// <summary>Rows that point at rows which are not there.</summary>
    public required long BrokenReferences { get; init; }

    /// <summary>Version of the database: the name of its last migration.</summary>
    public required string Schema { get; init; }

    /// <summary>The version that this program writes.</summary>
    public required string ExpectedSchema { get; init; }

    /// <summary>Photos and recordings that the database speaks of and that are not there.</summary>
    public required ImmutableArray<string> MissingFiles { get; init; }

    /// <summary>Photos and recordings that the database does not speak of: they take room and do no harm.</summary>
    public required ImmutableArray<string> OrphanedFiles { get; init; }

    /// <summary>What is wrong with backups, a sentence each.</summary>
    public required ImmutableArray<string> BackupFaults { get; init; }

    /// <summary>True when nothing is wrong with the records and the backups. Files that nobody speaks of are not wrong.</summary>
    public bool IsSound => Integrity == "ok" && BrokenReferences == 0 && Schema == ExpectedSchema && MissingFiles.IsEmpty && BackupFaults.IsEmpty;
}

/// <summary>Looks over a data folder, which may be in use meanwhile.</summary>
internal static class ShopChecks
{
    /// <summary>Looks. The files of backups are read whole: this takes as long as reading all of them does.</summary>
    public static ShopCheck Run(string folder, string database, BackupFolder backups, string expectedSchema, CancellationToken cancel)
    {
        // The files first: one that arrives meanwhile is in the database only after it is on disk.
        var files = KeptFiles.In(folder).ToImmutableSortedSet(StringComparer.Ordinal);
        var check = DatabaseCheck.Of(database);
        return new()
        {
            Integrity = check.Integrity,
            BrokenReferences = check.BrokenReferences,
            Schema = check.Schema,
            ExpectedSchema = expectedSchema,
            MissingFiles = [.. check.Files.Except(files).Where(f => !File.Exists(KeptFiles.PathIn(folder, f)))],
            OrphanedFiles = [.. files.Except(check.Files)],
            BackupFaults = [.. backups.List().SelectMany(b => Faults(backups, b.Name)).Concat(FileFaults(backups, cancel))],
        };
    }

    private static IEnumerable<string> Faults(BackupFolder backups, string name)
    {
        var manifest = backups.Read(name);
        var database = backups.DatabaseOf(name);
        if (!File.Exists(database) || BackupMaker.Described(BackupFolder.DatabaseName, database) != manifest.Database)
        {
            yield return $"Backup {name}: its database is missing or is not the one that was written.";
        }
    }

    // Each file once, though many backups name it.
    private static IEnumerable<string> FileFaults(BackupFolder backups, CancellationToken cancel)
    {
        foreach (var file in backups.List().SelectMany(b => backups.Read(b.Name).Files).DistinctBy(f => f.Name).OrderBy(f => f.Name, StringComparer.Ordinal))
        {
            cancel.ThrowIfCancellationRequested();
            var path = KeptFiles.PathIn(backups.Files, file.Name);
            if (!File.Exists(path) || BackupMaker.Described(file.Name, path) != file)
            {
                yield return $"{file.Name} is missing in the backups or is not the file that was written.";
            }
        }
    }
}
