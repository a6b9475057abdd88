using System.Collections.Concurrent;

namespace ShopDiag.Web.Waveforms;

/// <summary>
/// Files of samples on their way from a tablet to a page: <c>uploads/</c> in the data folder, named after nothing but a key that an open page made, and gone with that page. They are not kept with the order.
/// </summary>
public sealed class WaveformUploads
{
    /// <summary>Largest file that is taken, bytes: ten million rows of a time and two channels take about 250 MB.</summary>
    public const long LargestBytes = 400_000_000;

    private readonly string _folder;
    private readonly ConcurrentDictionary<Guid, bool> _expected = new();

    /// <summary>In a data folder.</summary>
    public WaveformUploads(string dataFolder) => _folder = Path.Combine(dataFolder, "uploads");

    /// <summary>Where they lie; also what a program sends while it is worked out.</summary>
    public string Folder => _folder;

    /// <summary>One at a time: a long recording takes up to 250 MB while it is read.</summary>
    public SemaphoreSlim Reading { get; } = new(1);

    /// <summary>A key under which one file may be sent.</summary>
    public Guid Expect()
    {
        var id = Guid.NewGuid();
        _expected[id] = true;
        return id;
    }

    /// <summary>Keeps what a stream holds; false when no open page expects it.</summary>
    public async Task<bool> KeepAsync(Guid id, Stream content, CancellationToken cancel)
    {
        if (!_expected.ContainsKey(id))
        {
            return false;
        }

        Directory.CreateDirectory(_folder);
        try
        {
            await using var file = new FileStream(PathOf(id), FileMode.Create, FileAccess.Write, FileShare.None);
            await content.CopyToAsync(file, cancel);
        }
        catch (Exception)
        {
            // Half a file, or a page that has gone meanwhile: nobody will read it.
            File.Delete(PathOf(id));
            throw;
        }

        if (!_expected.ContainsKey(id))
        {
            File.Delete(PathOf(id));
            return false;
        }

        return true;
    }

    /// <summary>The file for reading, or null when it never came.</summary>
    public FileStream? Open(Guid id)
    {
        try
        {
            return new(PathOf(id), FileMode.Open, FileAccess.Read, FileShare.Read | FileShare.Delete);
        }
        catch (Exception e) when (e is FileNotFoundException or DirectoryNotFoundException)
        {
            return null;
        }
    }

    /// <summary>The page does not need it any more.</summary>
    public void Drop(Guid id)
    {
        _expected.TryRemove(id, out _);
        if (Directory.Exists(_folder))
        {
            File.Delete(PathOf(id));
        }
    }

    /// <summary>Deletes what a killed program left behind. Called when the shop is opened: the folder belongs to this process from then on.</summary>
    public void Sweep()
    {
        if (Directory.Exists(_folder))
        {
            foreach (var file in Directory.EnumerateFiles(_folder, "*.csv"))
            {
                File.Delete(file);
            }
        }
    }

    private string PathOf(Guid id) => Path.Combine(_folder, id.ToString("N") + ".csv");
}
