namespace ShopDiag.Storage.Data;

/// <summary>The shop's data could not be read in. The message says where and why; nothing was taken.</summary>
public sealed class ShopDataException : Exception
{
    /// <summary>Makes one without words; prefer the others.</summary>
    public ShopDataException()
    {
    }

    /// <summary>Makes one.</summary>
    public ShopDataException(string message)
        : base(message)
    {
    }

    /// <summary>Makes one with what led to it.</summary>
    public ShopDataException(string message, Exception inner)
        : base(message, inner)
    {
    }
}
