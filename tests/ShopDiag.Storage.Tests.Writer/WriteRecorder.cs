using System.Collections.Concurrent;
using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;
using System.Text;

namespace ShopDiag.Storage.Tests.Writer;

/// <summary>
/// Writes down every write, flush, cut and deletion that SQLite asks of the system on the database and its log, in their order, for a simulator of power cuts (PowerCutTests). It stands between SQLite and its
/// own file layer (a VFS, sqlite.org/vfs.html): the functions it does not care for are SQLite's own. 64-bit only.
/// A record is: kind of operation (W write, S flush, T cut, U deletion, A acknowledged), file (d database, w log, j journal), offset or size (8 bytes), length (4), bytes.
/// </summary>
internal static unsafe class WriteRecorder
{
    private const int VfsSize = 168, ZName = 24, XOpen = 40, XDelete = 48;
    private const int MethodsSize = 152, XWrite = 24, XTruncate = 32, XSync = 40;
    private const int MainDb = 0x100, MainJournal = 0x800, Wal = 0x80000;

    private static readonly Lock Gate = new();
    private static readonly ConcurrentDictionary<nint, byte> Files = new();
    private static readonly ConcurrentDictionary<nint, nint> Methods = new();
    private static BinaryWriter? _log;
    private static delegate* unmanaged[Cdecl]<nint, nint, nint, int, int*, int> _open;
    private static delegate* unmanaged[Cdecl]<nint, byte*, int, int> _delete;
    private static delegate* unmanaged[Cdecl]<nint, byte*, int, long, int> _write;
    private static delegate* unmanaged[Cdecl]<nint, long, int> _truncate;
    private static delegate* unmanaged[Cdecl]<nint, int, int> _sync;

    /// <summary>Records into a file from now on.</summary>
    public static void Start(string file)
    {
        _log = new BinaryWriter(File.Create(file));
        var real = Find(null);
        var vfs = (byte*)NativeMemory.Alloc(VfsSize);
        Buffer.MemoryCopy((void*)real, vfs, VfsSize, VfsSize);
        *(nint*)(vfs + ZName) = Marshal.StringToCoTaskMemUTF8("recording");
        _open = (delegate* unmanaged[Cdecl]<nint, nint, nint, int, int*, int>)(*(nint*)(vfs + XOpen));
        _delete = (delegate* unmanaged[Cdecl]<nint, byte*, int, int>)(*(nint*)(vfs + XDelete));
        *(nint*)(vfs + XOpen) = (nint)(delegate* unmanaged[Cdecl]<nint, nint, nint, int, int*, int>)&Open;
        *(nint*)(vfs + XDelete) = (nint)(delegate* unmanaged[Cdecl]<nint, byte*, int, int>)&Delete;
        if (Register((nint)vfs, 1) != 0)
        {
            throw new InvalidOperationException("SQLite did not take the recorder.");
        }
    }

    /// <summary>Notes that somebody has been told that a reading is saved.</summary>
    public static void Acknowledged(int number) => Record('A', 'a', number, []);

    /// <summary>Ends the record. What the program does at its end is no longer in it.</summary>
    public static void Stop()
    {
        lock (Gate)
        {
            _log?.Dispose();
            _log = null;
        }
    }

    private static void Record(char operation, char file, long at, ReadOnlySpan<byte> bytes)
    {
        lock (Gate)
        {
            _log?.Write((byte)operation);
            _log?.Write((byte)file);
            _log?.Write(at);
            _log?.Write(bytes.Length);
            _log?.Write(bytes);
        }
    }

    [UnmanagedCallersOnly(CallConvs = [typeof(CallConvCdecl)])]
    private static int Open(nint vfs, nint name, nint file, int flags, int* outFlags)
    {
        var result = _open(vfs, name, file, flags, outFlags);
        var kind = (flags & MainDb) != 0 ? 'd' : (flags & Wal) != 0 ? 'w' : (flags & MainJournal) != 0 ? 'j' : '\0';
        if (result == 0 && kind != '\0')
        {
            Files[file] = (byte)kind;
            *(nint*)file = Methods.GetOrAdd(*(nint*)file, Hooked);
        }

        return result;
    }

    private static nint Hooked(nint real)
    {
        var methods = (byte*)NativeMemory.Alloc(MethodsSize);
        Buffer.MemoryCopy((void*)real, methods, MethodsSize, MethodsSize);
        _write = (delegate* unmanaged[Cdecl]<nint, byte*, int, long, int>)(*(nint*)(methods + XWrite));
        _truncate = (delegate* unmanaged[Cdecl]<nint, long, int>)(*(nint*)(methods + XTruncate));
        _sync = (delegate* unmanaged[Cdecl]<nint, int, int>)(*(nint*)(methods + XSync));
        *(nint*)(methods + XWrite) = (nint)(delegate* unmanaged[Cdecl]<nint, byte*, int, long, int>)&Write;
        *(nint*)(methods + XTruncate) = (nint)(delegate* unmanaged[Cdecl]<nint, long, int>)&Truncate;
        *(nint*)(methods + XSync) = (nint)(delegate* unmanaged[Cdecl]<nint, int, int>)&Sync;
        return (nint)methods;
    }

    // The lock around operation and record keeps them in one order; a flush that is under way holds up no other file here, which only makes the record stricter.
    [UnmanagedCallersOnly(CallConvs = [typeof(CallConvCdecl)])]
    private static int Write(nint file, byte* bytes, int count, long at)
    {
        lock (Gate)
        {
            var result = _write(file, bytes, count, at);
            if (result == 0)
            {
                Record('W', (char)Files[file], at, new(bytes, count));
            }

            return result;
        }
    }

    [UnmanagedCallersOnly(CallConvs = [typeof(CallConvCdecl)])]
    private static int Truncate(nint file, long size)
    {
        lock (Gate)
        {
            var result = _truncate(file, size);
            Record('T', (char)Files[file], size, []);
            return result;
        }
    }

    [UnmanagedCallersOnly(CallConvs = [typeof(CallConvCdecl)])]
    private static int Sync(nint file, int flags)
    {
        lock (Gate)
        {
            var result = _sync(file, flags);
            Record('S', (char)Files[file], 0, []);
            return result;
        }
    }

    [UnmanagedCallersOnly(CallConvs = [typeof(CallConvCdecl)])]
    private static int Delete(nint vfs, byte* name, int syncFolder)
    {
        lock (Gate)
        {
            var result = _delete(vfs, name, syncFolder);
            var path = Encoding.UTF8.GetString(MemoryMarshal.CreateReadOnlySpanFromNullTerminated(name));
            var kind = path.EndsWith("-wal", StringComparison.Ordinal) ? 'w' : path.EndsWith("-journal", StringComparison.Ordinal) ? 'j' : '\0';
            if (result == 0 && kind != '\0')
            {
                Record('U', kind, 0, []);
            }

            return result;
        }
    }

    [DllImport("e_sqlite3", EntryPoint = "sqlite3_vfs_find", CallingConvention = CallingConvention.Cdecl)]
    [DefaultDllImportSearchPaths(DllImportSearchPath.AssemblyDirectory)]
    private static extern nint Find(byte* name);

    [DllImport("e_sqlite3", EntryPoint = "sqlite3_vfs_register", CallingConvention = CallingConvention.Cdecl)]
    [DefaultDllImportSearchPaths(DllImportSearchPath.AssemblyDirectory)]
    private static extern int Register(nint vfs, int makeDefault);
}
