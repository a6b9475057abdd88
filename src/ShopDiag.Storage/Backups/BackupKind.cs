using System.Text.Json.Serialization;

namespace ShopDiag.Storage.Backups;

/// <summary>Why a backup was made.</summary>
[JsonConverter(typeof(JsonStringEnumConverter<BackupKind>))]
public enum BackupKind
{
    /// <summary>By itself, every night.</summary>
    Nightly,

    /// <summary>Because somebody asked for it.</summary>
    Asked,

    /// <summary>Before a newer version of the program changed the database.</summary>
    BeforeUpgrade,

    /// <summary>Before another backup was put back: the way to undo that.</summary>
    BeforeRestore,
}
