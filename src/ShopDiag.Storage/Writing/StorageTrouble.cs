using Microsoft.Data.Sqlite;

namespace ShopDiag.Storage.Writing;

/// <summary>Nothing can be written now. The message says why in plain words: show it as it is. What was saved before can be read.</summary>
public sealed class StorageTroubleException : IOException
{
    /// <summary>Makes one without words; prefer the others.</summary>
    public StorageTroubleException()
    {
    }

    /// <summary>Makes one.</summary>
    public StorageTroubleException(string message)
        : base(message)
    {
    }

    /// <summary>Makes one with what led to it.</summary>
    public StorageTroubleException(string message, Exception inner)
        : base(message, inner)
    {
    }
}

/// <summary>Whether the shop's records can be written, as the writer found it the last time it tried.</summary>
public sealed class StorageTrouble
{
    private const string Full = "The disk of the computer that ShopDiag runs on is full, so nothing new can be saved. What was saved before can be read. Make room on it.";
    private const string Closed = "The folder of the shop's records cannot be written, so nothing new can be saved. What was saved before can be read. Make the folder writable again.";
    private const string Failing = "The disk of the computer that ShopDiag runs on does not take what is written. What was saved before may still be read. Have the disk looked at, and keep a backup elsewhere.";

    /// <summary>What is wrong, in plain words; null when nothing is.</summary>
    public string? Message { get; private set; }

    /// <summary>Raised when <see cref="Message"/> has changed. The callback must not block.</summary>
    public event Action? Changed;

    /// <summary>What an error says about the disk; null when it is about something else.</summary>
    public static string? Of(Exception error) => error switch
    {
        StorageTroubleException known => known.Message,
        SqliteException { SqliteErrorCode: 13 } => Full,
        SqliteException { SqliteErrorCode: 8 or 14 or 3 } => Closed,
        SqliteException { SqliteErrorCode: 10 } => Failing,
        UnauthorizedAccessException => Closed,
        // ENOSPC and EDQUOT; on Windows ERROR_DISK_FULL and ERROR_HANDLE_DISK_FULL.
        IOException io when (io.HResult & 0xFFFF) is 28 or 122 or 112 or 39 => Full,
        // EROFS; on Windows ERROR_WRITE_PROTECT.
        IOException io when (io.HResult & 0xFFFF) is 30 or 19 => Closed,
        { InnerException: { } inner } => Of(inner),
        _ => null,
    };

    /// <summary>Notes how a try to write ended: with an error, or well (null).</summary>
    internal void Note(Exception? error)
    {
        var message = error is null ? null : Of(error);
        if ((error is not null && message is null) || message == Message)
        {
            return;
        }

        Message = message;
        Changed?.Invoke();
    }
}
