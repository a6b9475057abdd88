using ShopDiag.Storage.Opening;

namespace ShopDiag.Storage.Recordings;

/// <summary>The files of the recordings: <c>recordings/</c> in the data folder, named after nothing but their key, so that no name from outside ever becomes a path.</summary>
internal sealed class RecordingFiles(ShopFolder folder)
{
    private const string Part = ".part";

    private string Folder => Path.Combine(folder.FullPath, "recordings");

    public string PathOf(Guid id, RecordingKind kind) => Path.Combine(Folder, id.ToString("N") + Ending(kind));

    /// <summary>A new file, for writing and winding back; others may read it meanwhile.</summary>
    public FileStream Create(Guid id, RecordingKind kind)
    {
        Make();
        return new(PathOf(id, kind), FileMode.CreateNew, FileAccess.ReadWrite, FileShare.Read);
    }

    /// <summary>Keeps what a stream holds under the key: whole or not at all. The bytes written.</summary>
    public async Task<long> KeepAsync(Guid id, RecordingKind kind, Stream content, CancellationToken cancel)
    {
        Make();
        var whole = PathOf(id, kind);
        var part = $"{whole}.{Guid.NewGuid():N}{Part}";
        try
        {
            long bytes;
            var file = new FileStream(part, FileMode.CreateNew, FileAccess.Write, FileShare.None);
            await using (file.ConfigureAwait(false))
            {
                await content.CopyToAsync(file, cancel).ConfigureAwait(false);
                file.Flush(flushToDisk: true);
                bytes = file.Length;
            }

            File.Move(part, whole, overwrite: true);
            return bytes;
        }
        finally
        {
            File.Delete(part);
        }
    }

    /// <summary>The file for reading, or null when it is gone.</summary>
    public FileStream? Open(Guid id, RecordingKind kind)
    {
        try
        {
            return new(PathOf(id, kind), FileMode.Open, FileAccess.Read, FileShare.ReadWrite | FileShare.Delete);
        }
        catch (Exception e) when (e is FileNotFoundException or DirectoryNotFoundException)
        {
            return null;
        }
    }

    public void Delete(Guid id, RecordingKind kind)
    {
        if (Directory.Exists(Folder))
        {
            File.Delete(PathOf(id, kind));
        }
    }

    /// <summary>Deletes what uploads left behind that a killed program never finished. Files without a row are left: a restored older database may still get them.</summary>
    public void SweepParts()
    {
        if (Directory.Exists(Folder))
        {
            foreach (var part in Directory.EnumerateFiles(Folder, "*" + Part))
            {
                File.Delete(part);
            }
        }
    }

    private static string Ending(RecordingKind kind) => kind switch
    {
        RecordingKind.Sound => ".wav",
        RecordingKind.SpeedLog => ".csv",
        _ => throw new InvalidOperationException($"Unknown kind {kind}."),
    };

    private void Make() => Directory.CreateDirectory(Folder);
}
