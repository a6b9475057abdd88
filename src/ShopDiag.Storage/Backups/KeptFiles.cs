using System.Collections.Immutable;
using System.Text.RegularExpressions;
using Microsoft.Data.Sqlite;
using ShopDiag.Storage.Opening;
using ShopDiag.Storage.Recordings;

namespace ShopDiag.Storage.Backups;

/// <summary>The files beside the database that belong to the shop's records. Under one name there is one content for ever, so that two of the same name and size are the same.</summary>
internal static partial class KeptFiles
{
    private static readonly string[] Folders = ["photos", "recordings"];

    /// <summary>The names of the files in a data folder, as <c>photos/0123….jpg</c>, in order. What is only half there has another name and is passed over.</summary>
    public static IEnumerable<string> In(string folder) => Folders
        .Select(f => (Name: f, Path: Path.Combine(folder, f)))
        .Where(f => Directory.Exists(f.Path))
        .SelectMany(f => Directory.EnumerateFiles(f.Path).Select(p => $"{f.Name}/{Path.GetFileName(p)}"))
        .Where(IsName)
        .Order(StringComparer.Ordinal);

    /// <summary>True for a name that such a file can have: nothing else ever becomes a path.</summary>
    public static bool IsName(string name) => Name().IsMatch(name);

    /// <summary>The name of a recording's file.</summary>
    public static string NameOf(Guid id, RecordingKind kind) => $"recordings/{id:N}.{(kind == RecordingKind.Sound ? "wav" : "csv")}";

    /// <summary>The path of a file in a folder.</summary>
    public static string PathIn(string folder, string name) => IsName(name)
        ? Path.Combine(folder, name.Replace('/', Path.DirectorySeparatorChar))
        : throw new ArgumentException($"'{name}' is no name of a photo or a recording.", nameof(name));

    /// <summary>The files that a database speaks of. One of an older version may know no photos yet.</summary>
    public static ImmutableSortedSet<string> NamedBy(SqliteConnection database)
    {
        var names = ImmutableSortedSet.CreateBuilder<string>(StringComparer.Ordinal);
        if (HasTable(database, "Photos"))
        {
            foreach (var row in database.Rows("SELECT lower(replace(Id, '-', '')) FROM Photos"))
            {
                names.Add($"photos/{row[0]}.jpg");
                names.Add($"photos/{row[0]}.small.jpg");
            }
        }

        if (HasTable(database, "Recordings"))
        {
            foreach (var row in database.Rows("SELECT lower(replace(Id, '-', '')), Kind FROM Recordings"))
            {
                names.Add($"recordings/{row[0]}.{((string)row[1]! == "Sound" ? "wav" : "csv")}");
            }
        }

        return names.ToImmutable();
    }

    /// <summary>Copies a file: whole or not at all, and on disk when this returns.</summary>
    public static void Copy(string from, string to)
    {
        OwnerOnly.MakeFolder(Path.GetDirectoryName(to)!);
        var part = $"{to}.{Guid.NewGuid():N}.part";
        try
        {
            using (var source = new FileStream(from, FileMode.Open, FileAccess.Read, FileShare.ReadWrite | FileShare.Delete))
            using (var target = OwnerOnly.Create(part))
            {
                source.CopyTo(target);
                target.Flush(flushToDisk: true);
            }

            File.Move(part, to, overwrite: true);
        }
        finally
        {
            File.Delete(part);
        }
    }

    private static bool HasTable(SqliteConnection database, string table) =>
        database.Number($"SELECT count(*) FROM sqlite_master WHERE type = 'table' AND name = '{table}'") > 0;

    [GeneratedRegex(@"^(photos/[0-9a-f]{32}(\.small)?\.jpg|recordings/[0-9a-f]{32}\.(wav|csv))\z", RegexOptions.CultureInvariant)]
    private static partial Regex Name();
}
