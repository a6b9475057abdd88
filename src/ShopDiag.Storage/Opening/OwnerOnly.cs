namespace ShopDiag.Storage.Opening;

/// <summary>Folders and files that only the user under whom the program runs may read: customers' data and private keys lie in them. On Windows the user's own application data is closed to others already.</summary>
public static class OwnerOnly
{
    private const UnixFileMode File600 = UnixFileMode.UserRead | UnixFileMode.UserWrite;
    private const UnixFileMode Folder700 = File600 | UnixFileMode.UserExecute;

    /// <summary>Makes a folder. One that is there stays as it is, for somebody may have opened it to others on purpose; unless it is to be closed.</summary>
    public static void MakeFolder(string folder, bool close = false)
    {
        if (OperatingSystem.IsWindows())
        {
            Directory.CreateDirectory(folder);
            return;
        }

        Directory.CreateDirectory(folder, Folder700);
        if (close)
        {
            File.SetUnixFileMode(folder, Folder700);
        }
    }

    /// <summary>A new file for writing; throws <see cref="IOException"/> when there is one.</summary>
    public static FileStream Create(string file) => Open(file, FileMode.CreateNew, FileShare.None);

    /// <summary>Writes a file: whole or not at all, and never readable by others, not even for a moment.</summary>
    public static void Write(string file, ReadOnlySpan<byte> content)
    {
        var part = file + ".part";
        File.Delete(part);
        using (var stream = Create(part))
        {
            stream.Write(content);
        }

        File.Move(part, file, overwrite: true);
    }

    /// <summary>Makes a file when there is none, and takes it from others when they could read it.</summary>
    internal static void Keep(string file)
    {
        if (!OperatingSystem.IsWindows())
        {
            Open(file, FileMode.OpenOrCreate, FileShare.ReadWrite).Dispose();
            File.SetUnixFileMode(file, File600);
        }
    }

    private static FileStream Open(string file, FileMode mode, FileShare share)
    {
        var options = new FileStreamOptions { Mode = mode, Access = FileAccess.ReadWrite, Share = share };
        if (!OperatingSystem.IsWindows())
        {
            options.UnixCreateMode = File600;
        }

        return new(file, options);
    }
}
