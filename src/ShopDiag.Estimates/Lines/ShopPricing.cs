namespace ShopDiag.Estimates;

/// <summary>How the shop prices its work.</summary>
public sealed record ShopPricing
{
    /// <summary>Name of the tax on paper.</summary>
    public string TaxName { get; init; } = "Tax";

    /// <summary>Tax on parts, basis points.</summary>
    public int PartsTaxBasisPoints { get; init; }

    /// <summary>Tax on labour, basis points.</summary>
    public int LabourTaxBasisPoints { get; init; }

    /// <summary>Tax on fees, basis points.</summary>
    public int FeesTaxBasisPoints { get; init; }

    /// <summary>Shop supplies as a share of labour, basis points; 0 for none.</summary>
    public int SuppliesBasisPoints { get; init; }

    /// <summary>Most that shop supplies come to; 0 for no bound.</summary>
    public long SuppliesMostMinor { get; init; }

    /// <summary>What stands above the signature. Empty for <see cref="DefaultTerms"/>.</summary>
    public string Terms { get; init; } = "";

    /// <summary>What the shop stands for after the repair, on the invoice; empty for nothing.</summary>
    public string Warranty { get; init; } = "";

    /// <summary>
    /// The template of the terms. Common legal practice in words of our own (a written estimate, asking before it is exceeded, old parts back on
    /// request); the law where the shop stands decides and the owner puts its wording here.
    /// </summary>
    public const string DefaultTerms =
        "I have seen this estimate and ask the shop to do the work marked as approved for the amount shown, tax included. The shop asks me before it does more or charges more. "
        + "I can have the replaced parts back if I say so now, except those that go back to the maker for a deposit or under a warranty. Local law decides where it says otherwise.";

    /// <summary>The terms that apply.</summary>
    public string TermsInForce => Terms.Trim().Length == 0 ? DefaultTerms : Terms;

    /// <summary>The tax on a kind of line, basis points.</summary>
    public int TaxOn(LineKind kind) => kind switch
    {
        LineKind.Part => PartsTaxBasisPoints,
        LineKind.Labour => LabourTaxBasisPoints,
        LineKind.Fee => FeesTaxBasisPoints,
        _ => throw new ArgumentOutOfRangeException(nameof(kind), kind, "Unknown kind of line."),
    };
}
