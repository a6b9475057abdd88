using ShopDiag.Storage.Opening;

namespace ShopDiag.Storage.Photos;

/// <summary>The files of the photos: <c>photos/</c> in the data folder, named after nothing but their key, so that no name from outside ever becomes a path.</summary>
internal sealed class PhotoFiles(ShopFolder folder)
{
    private const string Part = ".part";

    private string Folder => Path.Combine(folder.FullPath, "photos");

    /// <summary>Keeps a picture under the key, whole or not at all. One that is there already stays: under one key there is one picture for ever.</summary>
    public async Task KeepAsync(Guid id, PhotoSize size, ReadOnlyMemory<byte> jpeg, CancellationToken cancel)
    {
        Directory.CreateDirectory(Folder);
        var whole = PathOf(id, size);
        var part = $"{whole}.{Guid.NewGuid():N}{Part}";
        try
        {
            var file = new FileStream(part, FileMode.CreateNew, FileAccess.Write, FileShare.None);
            await using (file.ConfigureAwait(false))
            {
                await file.WriteAsync(jpeg, cancel).ConfigureAwait(false);
                file.Flush(flushToDisk: true);
            }

            MoveUnlessThere(part, whole);
        }
        finally
        {
            File.Delete(part);
        }
    }

    /// <summary>The picture for reading, or null when it is gone.</summary>
    public FileStream? Open(Guid id, PhotoSize size)
    {
        try
        {
            return new(PathOf(id, size), FileMode.Open, FileAccess.Read, FileShare.ReadWrite | FileShare.Delete);
        }
        catch (Exception e) when (e is FileNotFoundException or DirectoryNotFoundException)
        {
            return null;
        }
    }

    public void Delete(Guid id)
    {
        if (Directory.Exists(Folder))
        {
            File.Delete(PathOf(id, PhotoSize.Full));
            File.Delete(PathOf(id, PhotoSize.Small));
        }
    }

    /// <summary>Deletes what a killed program never finished. Files without a row are left: a restored older database may still get them.</summary>
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

    private static void MoveUnlessThere(string part, string whole)
    {
        try
        {
            File.Move(part, whole);
        }
        catch (IOException) when (File.Exists(whole))
        {
            // A repetition of the same upload was first.
        }
    }

    private string PathOf(Guid id, PhotoSize size) => Path.Combine(Folder, id.ToString("N") + Ending(size));

    private static string Ending(PhotoSize size) => size switch
    {
        PhotoSize.Full => ".jpg",
        PhotoSize.Small => ".small.jpg",
        _ => throw new InvalidOperationException($"Unknown size {size}."),
    };
}
