using System.Globalization;
using ShopDiag.Storage.Backups;

namespace ShopDiag.Web.Keeping;

/// <summary>Backups in plain words.</summary>
public static class KeepingWords
{
    /// <summary>Why a backup was made.</summary>
    public static string Of(BackupKind kind) => kind switch
    {
        BackupKind.Nightly => "Nightly",
        BackupKind.Asked => "Asked for",
        BackupKind.BeforeUpgrade => "Before an update of the program",
        BackupKind.BeforeRestore => "Before another was put back",
        _ => throw new ArgumentOutOfRangeException(nameof(kind), kind, "No such kind."),
    };

    /// <summary>A size: <c>1.2 MB</c>.</summary>
    public static string Size(long bytes) => bytes switch
    {
        < 1_000_000 => string.Create(CultureInfo.InvariantCulture, $"{Math.Max(1, bytes / 1000)} kB"),
        < 1_000_000_000 => string.Create(CultureInfo.InvariantCulture, $"{bytes / 1e6:0.0} MB"),
        _ => string.Create(CultureInfo.InvariantCulture, $"{bytes / 1e9:0.0} GB"),
    };

    /// <summary>A number of files.</summary>
    public static string Files(int count) => count == 1 ? "1 photo or recording" : string.Create(CultureInfo.InvariantCulture, $"{count} photos and recordings");

    /// <summary>A number of orders.</summary>
    public static string Orders(int count) => count == 1 ? "1 order" : string.Create(CultureInfo.InvariantCulture, $"{count} orders");

    /// <summary>How long ago: <c>3 hours ago</c>.</summary>
    public static string Ago(TimeSpan age) => age switch
    {
        { TotalMinutes: < 2 } => "just now",
        { TotalHours: < 2 } => string.Create(CultureInfo.InvariantCulture, $"{(int)age.TotalMinutes} minutes ago"),
        { TotalDays: < 2 } => string.Create(CultureInfo.InvariantCulture, $"{(int)age.TotalHours} hours ago"),
        _ => string.Create(CultureInfo.InvariantCulture, $"{(int)age.TotalDays} days ago"),
    };
}
