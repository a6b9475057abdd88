namespace ShopDiag.Estimates;

/// <summary>One entry of the shop's own list of prices and labour times.</summary>
public sealed record PriceEntry
{
    /// <summary>Part, labour or fee.</summary>
    public required LineKind Kind { get; init; }

    /// <summary>The part as the causes name it, the cause for labour, the fee. Not empty, at most 200 characters.</summary>
    public required string Name { get; init; }

    /// <summary>Words of the car or engine that it is for; empty for any.</summary>
    public string For { get; init; } = "";

    /// <summary>Price of one piece, or of an hour; null for labour at the shop's rate.</summary>
    public long? PriceMinor { get; init; }

    /// <summary>Deposit on the old part.</summary>
    public long CoreMinor { get; init; }

    /// <summary>The shop's own labour time in minutes; null for the usual one.</summary>
    public double? Minutes { get; init; }

    /// <summary>Who sells it.</summary>
    public string Vendor { get; init; } = "";

    /// <summary>Who makes it.</summary>
    public string Maker { get; init; } = "";

    /// <summary>The maker's number.</summary>
    public string PartNumber { get; init; } = "";

    /// <summary>True for a fee that goes on every order with a repair.</summary>
    public bool EveryOrder { get; init; }

    /// <summary>What makes it this entry and no other: kind, name and what it is for, without regard to case and spaces.</summary>
    public string Key => $"{Kind}|{PriceList.Folded(Name)}|{PriceList.Folded(For)}";
}
