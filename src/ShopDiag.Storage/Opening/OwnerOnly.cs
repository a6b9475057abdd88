namespace ShopDiag.Storage.Opening;

/// <summary>Folders and files that only the user under whom the program runs may read: customers' data lies in them.</summary>
internal static class OwnerOnly
{
    private const UnixFileMode File600 = UnixFileMode.UserRead | UnixFileMode.UserWrite;

    /// <summary>Makes a folder; one that is there stays as it is.</summary>
    public static void MakeFolder(string folder)
    {
        if (OperatingSystem.IsWindows())
        {
            Directory.CreateDirectory(folder);
        }
        else
        {
            Directory.CreateDirectory(folder, File600 | UnixFileMode.UserExecute);
        }
    }

    /// <summary>A new file for writing; throws <see cref="IOException"/> when there is one.</summary>
    public static FileStream Create(string file)
    {
        var options = new FileStreamOptions { Mode = FileMode.CreateNew, Access = FileAccess.ReadWrite, Share = FileShare.None };
        if (!OperatingSystem.IsWindows())
        {
            options.UnixCreateMode = File600;
        }

        return new(file, options);
    }
}
