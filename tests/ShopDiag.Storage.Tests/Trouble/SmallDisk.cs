using System.Diagnostics;

namespace ShopDiag.Storage.Tests.Trouble;

/// <summary>A disk of a few megabytes (tmpfs). Only root may mount one; elsewhere the test says that it was skipped.</summary>
internal sealed class SmallDisk : IDisposable
{
    private SmallDisk(string folder) => Folder = folder;

    public string Folder { get; }

    private string Filler => Path.Combine(Folder, "filler");

    public static SmallDisk Mount(int megabytes)
    {
        var folder = Directory.CreateTempSubdirectory("shopdiag-disk-").FullName;
        if (!OperatingSystem.IsLinux() || Run("mount", "-t", "tmpfs", "-o", $"size={megabytes}m", "tmpfs", folder) != 0)
        {
            Directory.Delete(folder);
            Assert.Skip("A small disk can be mounted by root on Linux only.");
        }

        return new(folder);
    }

    /// <summary>Takes all the room that is left.</summary>
    public void Fill()
    {
        using var file = new FileStream(Filler, FileMode.Append, FileAccess.Write, FileShare.None, bufferSize: 0);
        foreach (var size in new[] { 65536, 4096 })
        {
            try
            {
                while (true)
                {
                    file.Write(new byte[size]);
                }
            }
            catch (IOException)
            {
                // Full; the smaller block finds what is left.
            }
        }
    }

    /// <summary>Gives it back.</summary>
    public void Empty() => File.Delete(Filler);

    /// <summary>Lets nothing be written, or lets it again.</summary>
    public void ReadOnly(bool on) => Assert.Equal(0, Run("mount", "-o", on ? "remount,ro" : "remount,rw", Folder));

    public void Dispose()
    {
        Run("umount", "-l", Folder);
        Directory.Delete(Folder);
    }

    private static int Run(string program, params string[] arguments)
    {
        try
        {
            using var process = Process.Start(new ProcessStartInfo(program, arguments) { RedirectStandardError = true })!;
            process.WaitForExit();
            return process.ExitCode;
        }
        catch (System.ComponentModel.Win32Exception)
        {
            return -1;
        }
    }
}
