namespace ShopDiag.Estimates;

/// <summary>What a line asks money for.</summary>
public enum LineKind
{
    /// <summary>A part, by pieces.</summary>
    Part,

    /// <summary>Work, by hours.</summary>
    Labour,

    /// <summary>Anything else, by pieces: supplies, disposal, work sent out.</summary>
    Fee,
}

/// <summary>Whether a line ends the concern or is only advised.</summary>
public enum LineChoice
{
    /// <summary>Needed now to end the concern.</summary>
    Needed,

    /// <summary>Advised; the concern ends without it.</summary>
    Advised,
}

/// <summary>One line of an estimate. Amounts are in minor units of the shop's currency.</summary>
public sealed record EstimateLine
{
    /// <summary>Key.</summary>
    public required Guid Id { get; init; }

    /// <summary>What it asks money for.</summary>
    public required LineKind Kind { get; init; }

    /// <summary>What it is, in the trade's words.</summary>
    public string Text { get; init; } = "";

    /// <summary>Needed now or advised.</summary>
    public LineChoice Choice { get; init; }

    /// <summary>Pieces or hours in thousandths, from 0 to 10,000,000 (ten thousand pieces or hours).</summary>
    public long Thousandths { get; init; } = 1000;

    /// <summary>Price of one piece or hour; null while nobody has set one.</summary>
    public long? PriceMinor { get; init; }

    /// <summary>Discount on the line in basis points, 0 to 10,000.</summary>
    public int DiscountBasisPoints { get; init; }

    /// <summary>Tax on the line after its discount, in basis points, 0 to 10,000.</summary>
    public int TaxBasisPoints { get; init; }

    /// <summary>Deposit on the old part, for each piece; given back when the old part is.</summary>
    public long CoreMinor { get; init; }

    /// <summary>Where on the engine, in words; empty when it does not matter.</summary>
    public string Position { get; init; } = "";

    /// <summary>What must match, for the parts counter.</summary>
    public string MustMatch { get; init; } = "";

    /// <summary>True for a part replaced together with the one that failed.</summary>
    public bool Together { get; init; }

    /// <summary>The cause it mends, or empty for a line of another origin.</summary>
    public string Cause { get; init; } = "";

    /// <summary>True while the cause is not proven: a part is then held back until somebody says why it goes on anyway.</summary>
    public bool Unproven { get; init; }

    /// <summary>Why an unproven cause's part goes on anyway, with who and when; null while it is held back or was never held.</summary>
    public GoAhead? GoAhead { get; init; }

    /// <summary>Who sells the part.</summary>
    public string Vendor { get; init; } = "";

    /// <summary>Who makes the part.</summary>
    public string Maker { get; init; } = "";

    /// <summary>The maker's number.</summary>
    public string PartNumber { get; init; } = "";

    /// <summary>What of the finding it was made from; empty for a line entered by hand.</summary>
    public string Origin { get; init; } = "";

    /// <summary>True once a person has changed it: the finding no longer does.</summary>
    public bool Edited { get; init; }

    /// <summary>True once it was taken off; it can be put back.</summary>
    public bool Removed { get; init; }

    /// <summary>True for a part that must not be sold or ordered yet.</summary>
    public bool Held => Kind == LineKind.Part && Unproven && GoAhead is null;

    /// <summary>True when it counts: not taken off, not held back.</summary>
    public bool Counts => !Removed && !Held;
}

/// <summary>A decision to go on without proof.</summary>
/// <param name="Reason">Why.</param>
/// <param name="By">Who.</param>
/// <param name="At">When, UTC.</param>
public sealed record GoAhead(string Reason, string By, DateTime At);
