namespace ShopDiag.Storage;

/// <summary>The data folder cannot be used. The message says which folder, why, and what to do: show it as it is.</summary>
public sealed class DataFolderException : Exception
{
    /// <summary>Makes one without words; prefer the others.</summary>
    public DataFolderException()
    {
    }

    /// <summary>Makes one.</summary>
    public DataFolderException(string message)
        : base(message)
    {
    }

    /// <summary>Makes one with what led to it.</summary>
    public DataFolderException(string message, Exception inner)
        : base(message, inner)
    {
    }
}
