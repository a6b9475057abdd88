using System.Collections.Concurrent;
using System.Collections.Immutable;
using System.Globalization;
using ShopDiag.Storage.Opening;

namespace ShopDiag.Storage.Backups;

/// <summary>
/// Where backups are kept. Each is a folder with the database and what is in it (<c>backup.json</c>); the photos and recordings of all of them lie once in <c>files/</c>, copied when they are
/// new and deleted when no backup names them.
/// </summary>
internal sealed class BackupFolder(string path)
{
    /// <summary>The environment variable that names the folder.</summary>
    public const string Variable = "SHOPDIAG_BACKUPS";

    /// <summary>Name of the database in a backup.</summary>
    public const string DatabaseName = "shop.db";

    private const string Part = ".part";

    // A backup never changes once it counts, and what is in it may be a line for each of a hundred thousand photos.
    private readonly ConcurrentDictionary<string, (DateTime Written, BackupInfo? Info)> _known = new(StringComparer.Ordinal);

    /// <summary>The folder, as a full path.</summary>
    public string FullPath { get; } = Path.GetFullPath(path);

    /// <summary>The folder of the photos and recordings of all backups.</summary>
    public string Files => Path.Combine(FullPath, "files");

    /// <summary>The backup folder of a data folder: the one named in <see cref="Variable"/>, otherwise <c>backups</c> in it.</summary>
    public static string Resolve(string dataFolder) => Resolve(dataFolder, Environment.GetEnvironmentVariable(Variable));

    /// <summary>The same with the variable handed in.</summary>
    public static string Resolve(string dataFolder, string? variable) =>
        string.IsNullOrWhiteSpace(variable) ? Path.Combine(dataFolder, "backups") : Path.GetFullPath(variable.Trim());

    /// <summary>
    /// Keeps every other process out of the folder until the answer is disposed of: a verb may make a backup while the shop is served. Waits for it.
    /// </summary>
    public async Task<IDisposable> HoldAsync(CancellationToken cancel)
    {
        OwnerOnly.MakeFolder(FullPath);
        while (true)
        {
            try
            {
                return new FileStream(Path.Combine(FullPath, "backups.lock"), FileMode.OpenOrCreate, FileAccess.ReadWrite, FileShare.None);
            }
            catch (IOException e) when (ShopFolder.IsHeldByAnother(e))
            {
                await Task.Delay(TimeSpan.FromMilliseconds(200), cancel).ConfigureAwait(false);
            }
        }
    }

    /// <summary>A name that is not taken.</summary>
    public string NewName(BackupKind kind, DateTime now)
    {
        var word = kind switch
        {
            BackupKind.Nightly => "nightly",
            BackupKind.Asked => "asked",
            BackupKind.BeforeUpgrade => "before-upgrade",
            BackupKind.BeforeRestore => "before-restore",
            _ => throw new ArgumentOutOfRangeException(nameof(kind), kind, "No such kind."),
        };
        var name = string.Create(CultureInfo.InvariantCulture, $"{now:yyyyMMdd'T'HHmmss'Z'}-{word}");
        return Enumerable.Range(1, int.MaxValue).Select(n => n == 1 ? name : string.Create(CultureInfo.InvariantCulture, $"{name}-{n}")).First(n => !Directory.Exists(PathOf(n)));
    }

    /// <summary>Begins a backup: a folder that does not count until <see cref="Finish"/>.</summary>
    public string Begin(string name)
    {
        OwnerOnly.MakeFolder(FullPath);
        var part = PathOf(name) + Part;
        OwnerOnly.MakeFolder(part);
        return part;
    }

    /// <summary>Makes a begun one count.</summary>
    public void Finish(string name) => Directory.Move(PathOf(name) + Part, PathOf(name));

    /// <summary>The backups, newest first. Folders that are none are passed over.</summary>
    public ImmutableArray<BackupInfo> List() => !Directory.Exists(FullPath)
        ? []
        : [.. Directory.EnumerateDirectories(FullPath)
            .Where(d => !d.EndsWith(Part, StringComparison.Ordinal) && File.Exists(Path.Combine(d, BackupManifest.FileName)))
            .Select(Known).OfType<BackupInfo>().OrderByDescending(b => b.MadeAt).ThenByDescending(b => b.Name, StringComparer.Ordinal)];

    /// <summary>What is in a backup; throws <see cref="BackupException"/> when there is none of that name or it cannot be read.</summary>
    public BackupManifest Read(string name)
    {
        // A name is looked up among those that are there, so that none from outside becomes a path.
        if (List().All(b => b.Name != name))
        {
            throw new BackupException($"There is no backup {name} in {FullPath}.");
        }

        return BackupManifest.Read(File.ReadAllText(Path.Combine(PathOf(name), BackupManifest.FileName)));
    }

    /// <summary>The database of a backup.</summary>
    public string DatabaseOf(string name) => Path.Combine(PathOf(name), DatabaseName);

    /// <summary>Deletes backups, and then the files that no backup names any more. Leftovers of broken-off backups go too.</summary>
    public void Delete(IEnumerable<string> names)
    {
        foreach (var name in names)
        {
            Directory.Delete(PathOf(name), recursive: true);
        }

        foreach (var part in Directory.Exists(FullPath) ? Directory.GetDirectories(FullPath, "*" + Part) : [])
        {
            Directory.Delete(part, recursive: true);
        }

        var named = List().SelectMany(b => Read(b.Name).Files).Select(f => f.Name).ToHashSet(StringComparer.Ordinal);
        foreach (var file in KeptFiles.In(Files).Where(f => !named.Contains(f)).ToList())
        {
            File.Delete(KeptFiles.PathIn(Files, file));
        }
    }

    private BackupInfo? Known(string folder)
    {
        var written = File.GetLastWriteTimeUtc(Path.Combine(folder, BackupManifest.FileName));
        if (!_known.TryGetValue(folder, out var known) || known.Written != written)
        {
            _known[folder] = known = (written, Info(folder));
        }

        return known.Info;
    }

    private static BackupInfo? Info(string folder)
    {
        try
        {
            var manifest = BackupManifest.Read(File.ReadAllText(Path.Combine(folder, BackupManifest.FileName)));
            return new()
            {
                Name = Path.GetFileName(folder),
                Kind = manifest.Kind,
                MadeAt = DateTime.SpecifyKind(manifest.MadeAt, DateTimeKind.Utc),
                Schema = manifest.Schema,
                Orders = manifest.Orders,
                Files = manifest.Files.Length,
                Bytes = manifest.Database.Bytes + manifest.Files.Sum(f => f.Bytes),
                Missing = manifest.Missing,
            };
        }
        catch (Exception e) when (e is BackupException or IOException or UnauthorizedAccessException)
        {
            return null;
        }
    }

    private string PathOf(string name) => Path.Combine(FullPath, name);
}
