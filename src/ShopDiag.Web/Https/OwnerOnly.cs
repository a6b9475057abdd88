namespace ShopDiag.Web.Https;

/// <summary>Files that only the owner of the data folder may read: private keys.</summary>
internal static class OwnerOnly
{
    private const UnixFileMode File600 = UnixFileMode.UserRead | UnixFileMode.UserWrite;

    /// <summary>Makes a folder.</summary>
    public static void MakeFolder(string folder)
    {
        if (OperatingSystem.IsWindows())
        {
            // The user's own application data is closed to other users already.
            Directory.CreateDirectory(folder);
        }
        else
        {
            Directory.CreateDirectory(folder, File600 | UnixFileMode.UserExecute);
            // One that an earlier version left open to others.
            File.SetUnixFileMode(folder, File600 | UnixFileMode.UserExecute);
        }
    }

    /// <summary>Writes a file: whole or not at all, and never readable by others, not even for a moment.</summary>
    public static void Write(string file, byte[] content)
    {
        var part = file + ".part";
        File.Delete(part);
        var options = new FileStreamOptions { Mode = FileMode.CreateNew, Access = FileAccess.Write };
        if (!OperatingSystem.IsWindows())
        {
            options.UnixCreateMode = File600;
        }

        using (var stream = new FileStream(part, options))
        {
            stream.Write(content);
        }

        File.Move(part, file, overwrite: true);
    }
}
