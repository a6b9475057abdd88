using ShopDiag.Storage.Opening;

namespace ShopDiag.Storage.Shop;

/// <summary>
/// The shop's logo: <c>logo.png</c> in the data folder, with the one before it beside it so that a change can be taken back. May be called from any thread. What it is given has been
/// drawn anew by the caller; nothing is looked into here.
/// </summary>
public sealed class ShopLogo
{
    private readonly Lock _gate = new();
    private readonly ShopFolder _folder;

    /// <summary>On a data folder.</summary>
    internal ShopLogo(ShopFolder folder) => _folder = folder;

    private string Now => Path.Combine(_folder.FullPath, "logo.png");

    private string Before => Path.Combine(_folder.FullPath, "logo.before.png");

    /// <summary>The picture, or empty for none.</summary>
    public ReadOnlyMemory<byte> Read()
    {
        lock (_gate)
        {
            return File.Exists(Now) ? File.ReadAllBytes(Now) : ReadOnlyMemory<byte>.Empty;
        }
    }

    /// <summary>Puts a picture in the place of the one there is, whole or not at all. Throws <see cref="IOException"/> when the folder cannot be written.</summary>
    public void Keep(ReadOnlySpan<byte> png)
    {
        lock (_gate)
        {
            var part = Now + ".part";
            File.WriteAllBytes(part, png);
            SetAside();
            File.Move(part, Now, overwrite: true);
        }
    }

    /// <summary>Takes the logo away; without one it does nothing. Throws <see cref="IOException"/> when the folder cannot be written.</summary>
    public void Remove()
    {
        lock (_gate)
        {
            if (File.Exists(Now))
            {
                SetAside();
            }
        }
    }

    /// <summary>Brings back what was there before the last change; twice is the change again. Throws <see cref="IOException"/> when the folder cannot be written.</summary>
    public void Undo()
    {
        lock (_gate)
        {
            var (hadBefore, aside) = (File.Exists(Before), Before + ".part");
            if (hadBefore)
            {
                File.Move(Before, aside, overwrite: true);
            }

            SetAside();
            if (hadBefore)
            {
                File.Move(aside, Now);
            }
        }
    }

    private void SetAside()
    {
        File.Delete(Before);
        if (File.Exists(Now))
        {
            File.Move(Now, Before);
        }
    }
}
