namespace ShopDiag.Obd.Data;

/// <summary>One quantity in the answer to a PID: where its bytes stand and what they count for.</summary>
/// <param name="Key">Stable name in JSON, such as <c>rpm</c>.</param>
/// <param name="Label">Plain name.</param>
/// <param name="Unit">Unit in the trade's spelling; empty for a plain number or words.</param>
public sealed record PidItem(string Key, string Label, string Unit)
{
    /// <summary>First byte, counted from 0 behind the PID.</summary>
    internal int At { get; init; }

    /// <summary>1, 2 or 4 bytes, the high one first.</summary>
    internal int Width { get; init; } = 1;

    /// <summary>True for two's complement.</summary>
    internal bool Signed { get; init; }

    /// <summary>The value is raw x times / divided by + plus.</summary>
    internal double Times { get; init; } = 1;

    internal double Divided { get; init; } = 1;

    internal double Plus { get; init; }

    /// <summary>A raw value that says "not used", or null.</summary>
    internal int? Unused { get; init; }

    /// <summary>Bit of byte 0 that must be set for the quantity to exist, or null.</summary>
    internal int? PresentBit { get; init; }

    /// <summary>Words for a coded value instead of a number.</summary>
    internal Func<uint, string>? Words { get; init; }

    internal uint Raw(ReadOnlySpan<byte> data)
    {
        uint raw = 0;
        foreach (var b in data.Slice(At, Width))
        {
            raw = (raw << 8) | b;
        }

        return raw;
    }

    internal double Number(uint raw)
    {
        double value = Signed && Width == 2 ? (short)raw : Signed && Width == 1 ? (sbyte)raw : raw;
        return (value * Times / Divided) + Plus;
    }
}

/// <summary>One decoded quantity of services 01 and 02.</summary>
/// <param name="Pid">The parameter identifier of SAE J1979.</param>
/// <param name="Item">What it is and its unit.</param>
/// <param name="Raw">The bytes as one number.</param>
public readonly record struct ObdValue(byte Pid, PidItem Item, uint Raw)
{
    /// <summary>The value in the item's unit; null where it is words.</summary>
    public double? Number => Item.Words is null ? Item.Number(Raw) : null;

    /// <summary>The words of a coded value; null where it is a number.</summary>
    public string? Words => Item.Words?.Invoke(Raw);
}
