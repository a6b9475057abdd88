namespace ShopDiag.Storage.Backups;

/// <summary>A backup could not be made or put back. The message is for a person: what is wrong and what to do. What was there before is as it was.</summary>
public sealed class BackupException : Exception
{
    /// <summary>Makes one without words; prefer the others.</summary>
    public BackupException()
    {
    }

    /// <summary>Makes one.</summary>
    public BackupException(string message)
        : base(message)
    {
    }

    /// <summary>Makes one with what led to it.</summary>
    public BackupException(string message, Exception inner)
        : base(message, inner)
    {
    }
}
