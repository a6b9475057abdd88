using System.Collections.Immutable;
using System.Text.Json;

namespace ShopDiag.Storage.Backups;

/// <summary>What stands in <c>backup.json</c> of a backup.</summary>
internal sealed record BackupManifest
{
    /// <summary>Name of the file.</summary>
    public const string FileName = "backup.json";

    /// <summary>The form of this file that this version writes.</summary>
    public const int Form = 1;

    private static readonly JsonSerializerOptions Options = new(JsonSerializerDefaults.Web) { WriteIndented = true };

    /// <summary>The form of this file.</summary>
    public int Version { get; init; } = Form;

    /// <summary>Why it was made.</summary>
    public required BackupKind Kind { get; init; }

    /// <summary>When, UTC.</summary>
    public required DateTime MadeAt { get; init; }

    /// <summary>Name of the database's last migration.</summary>
    public required string Schema { get; init; }

    /// <summary>Orders in it.</summary>
    public required int Orders { get; init; }

    /// <summary>Size and SHA-256 of the database.</summary>
    public required BackupFile Database { get; init; }

    /// <summary>The photos and recordings, by name.</summary>
    public required ImmutableArray<BackupFile> Files { get; init; }

    /// <summary>Those that the database speaks of and that were not there.</summary>
    public ImmutableArray<string> Missing { get; init; } = [];

    /// <summary>As text.</summary>
    public string Write() => JsonSerializer.Serialize(this, Options);

    /// <summary>From text; throws <see cref="BackupException"/> for one that cannot be read or is of a later form.</summary>
    public static BackupManifest Read(string text)
    {
        try
        {
            var manifest = JsonSerializer.Deserialize<BackupManifest>(text, Options);
            return manifest switch
            {
                null => throw new BackupException($"{FileName} of the backup is empty."),
                { Version: > Form } => throw new BackupException("This backup was made by a newer ShopDiag. Use that version or a later one."),
                _ when manifest.Files.IsDefault || manifest.Missing.IsDefault || manifest.Files.Any(f => !KeptFiles.IsName(f.Name)) => throw new BackupException($"{FileName} of the backup names files that no backup holds."),
                _ => manifest,
            };
        }
        catch (JsonException e)
        {
            throw new BackupException($"{FileName} of the backup cannot be read: {e.Message}", e);
        }
    }
}

/// <summary>A file of a backup.</summary>
/// <param name="Name">As <c>photos/0123….jpg</c>.</param>
/// <param name="Bytes">Its size.</param>
/// <param name="Sha256">Its SHA-256 in hexadecimal digits.</param>
internal sealed record BackupFile(string Name, long Bytes, string Sha256);
