namespace ShopDiag.Reports.Drawing;

/// <summary>The pictures of one paper: each is read once, however often the paper is laid out, and let go with it.</summary>
internal sealed class PictureShelf : IDisposable
{
    private readonly Dictionary<ReadOnlyMemory<byte>, Picture?> _pictures = [];

    /// <summary>A picture; null when the bytes are none.</summary>
    public Picture? Read(ReadOnlyMemory<byte> bytes)
    {
        if (!_pictures.TryGetValue(bytes, out var picture))
        {
            picture = Picture.Read(bytes);
            _pictures.Add(bytes, picture);
        }

        return picture;
    }

    /// <inheritdoc/>
    public void Dispose()
    {
        foreach (var picture in _pictures.Values)
        {
            picture?.Dispose();
        }
    }
}
