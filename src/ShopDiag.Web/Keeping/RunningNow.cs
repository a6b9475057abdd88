using System.Reflection;
using System.Runtime.InteropServices;
using ShopDiag.Storage.Backups;

namespace ShopDiag.Web.Keeping;

/// <summary>How the program is running, for the owner's page and for health checks.</summary>
/// <param name="dataFolder">The data folder.</param>
/// <param name="store">The backups.</param>
/// <param name="time">The clock.</param>
public sealed class RunningNow(string dataFolder, BackupStore store, TimeProvider time)
{
    /// <summary>Free room below which the owner should do something, bytes.</summary>
    public const long LittleRoom = 1_000_000_000;

    /// <summary>A backup older than this was missed: a night and two hours.</summary>
    public static readonly TimeSpan OldBackup = TimeSpan.FromHours(26);

    /// <summary>Version of the program.</summary>
    public static string Version { get; } = typeof(RunningNow).Assembly.GetCustomAttribute<AssemblyInformationalVersionAttribute>()!.InformationalVersion;

    /// <summary>Version of .NET and the system under it.</summary>
    public static string Platform => $"{RuntimeInformation.FrameworkDescription}, {RuntimeInformation.OSDescription}";

    /// <summary>When it was started, UTC.</summary>
    public DateTime Since { get; } = time.GetUtcNow().UtcDateTime;

    /// <summary>The data folder.</summary>
    public string DataFolder => dataFolder;

    /// <summary>Free room on the disk of the data folder, bytes; null when the system does not say.</summary>
    public long? FreeRoom => Room(dataFolder);

    /// <summary>The same of the backup folder.</summary>
    public long? FreeRoomForBackups => Room(store.Folder);

    /// <summary>Size of all files in the data folder without the backups, bytes.</summary>
    public long RecordsBytes => new DirectoryInfo(dataFolder).Exists
        ? new DirectoryInfo(dataFolder).EnumerateFiles("*", SearchOption.AllDirectories).Where(f => !store.IsBesideTheRecords || !f.FullName.StartsWith(store.Folder, StringComparison.Ordinal)).Sum(Length)
        : 0;

    /// <summary>The newest backup, or null.</summary>
    public BackupInfo? LastBackup => store.List() is [var newest, ..] ? newest : null;

    private static long Length(FileInfo file)
    {
        try
        {
            return file.Length;
        }
        catch (FileNotFoundException)
        {
            // Swept away since it was listed.
            return 0;
        }
    }

    private static long? Room(string folder)
    {
        try
        {
            var there = new DirectoryInfo(folder);
            while (!there.Exists && there.Parent is { } above)
            {
                there = above;
            }

            return new DriveInfo(there.FullName).AvailableFreeSpace;
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException or ArgumentException)
        {
            return null;
        }
    }
}
