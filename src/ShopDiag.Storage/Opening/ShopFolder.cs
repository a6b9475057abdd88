using Microsoft.Data.Sqlite;

namespace ShopDiag.Storage.Opening;

/// <summary>The data folder in use by this process: where the database lies, and the lock that keeps every other process out.</summary>
internal sealed class ShopFolder(string path) : IDisposable
{
    private readonly Lock _gate = new();
    private FileStream? _lock;
    private volatile bool _ready;

    /// <summary>The folder, as a full path.</summary>
    public string FullPath { get; } = Path.GetFullPath(path);

    /// <summary>How to reach the database. A private cache: with a shared one readers and the writer would lock each other out.</summary>
    public string ConnectionString => new SqliteConnectionStringBuilder
    {
        // What nobody can change needs no lock and no log beside it, neither of which could be made.
        DataSource = IsReadOnly ? $"file:{Uri.EscapeDataString(DatabaseFile)}?immutable=1" : DatabaseFile,
        Mode = IsReadOnly ? SqliteOpenMode.ReadOnly : SqliteOpenMode.ReadWriteCreate,
        Cache = SqliteCacheMode.Private,
        ForeignKeys = true,
        Pooling = true,
    }.ToString();

    /// <summary>True when there is a database in the folder.</summary>
    public bool HasDatabase => File.Exists(DatabaseFile);

    /// <summary>The database.</summary>
    public string DatabaseFile => Path.Combine(FullPath, "shop.db");

    /// <summary>True when the records can only be read: the folder or its disk takes nothing.</summary>
    public bool IsReadOnly { get; private set; }

    /// <summary>True when all that was saved is in the database itself and nothing in a log beside it, as the end of the program leaves it.</summary>
    public bool IsWholeWithoutLog => HasDatabase && new FileInfo(DatabaseFile + "-wal") is not { Exists: true, Length: > 0 };

    /// <summary>Goes on with reading only.</summary>
    public void ReadOnly()
    {
        using (var connection = new SqliteConnection(ConnectionString))
        {
            SqliteConnection.ClearPool(connection);
        }

        IsReadOnly = true;
    }

    /// <summary>True once the database is up to date and may be used.</summary>
    public bool IsReady => _ready;

    /// <summary>Makes the folder and takes its lock. Throws <see cref="DataFolderException"/> when another process has it or it cannot be written.</summary>
    public void TakeLock()
    {
        lock (_gate)
        {
            _lock ??= Take();
        }
    }

    /// <summary>Says that the database is up to date.</summary>
    public void Ready() => _ready = true;

    /// <summary>Lets the folder go: closes the pooled connections, then the lock.</summary>
    public void Dispose()
    {
        lock (_gate)
        {
            _ready = false;
            using (var connection = new SqliteConnection(ConnectionString))
            {
                SqliteConnection.ClearPool(connection);
            }

            _lock?.Dispose();
            _lock = null;
        }
    }

    private FileStream Take()
    {
        try
        {
            OwnerOnly.MakeFolder(FullPath);
            // SQLite would make the file readable for everybody; its log files take over the rights of this one.
            OwnerOnly.Keep(DatabaseFile);
            return new FileStream(Path.Combine(FullPath, "shop.lock"), FileMode.OpenOrCreate, FileAccess.ReadWrite, FileShare.None);
        }
        catch (IOException e) when (IsHeldByAnother(e))
        {
            throw new DataFolderException(
                $"The data folder {FullPath} is in use by another ShopDiag on this computer. Use or close that one, or name another folder with --data or in {DataFolder.Variable}.", e);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            throw new DataFolderException(
                $"The data folder {FullPath} cannot be written: {e.Message} Make it writable for this user, or name another folder with --data or in {DataFolder.Variable}.", e);
        }
    }

    /// <summary>EWOULDBLOCK from flock (11 on Linux, 35 on macOS), or a sharing violation on Windows.</summary>
    public static bool IsHeldByAnother(IOException e) =>
        OperatingSystem.IsWindows() ? (e.HResult & 0xFFFF) == 32 : e.HResult is 11 or 35;
}
