using System.Collections.Immutable;

namespace ShopDiag.Reports.Models;

/// <summary>What the proposed work costs, on the customer report.</summary>
public sealed record EstimateOnPaper
{
    /// <summary>The work that is needed now.</summary>
    public required EstimateGroup NeededNow { get; init; }

    /// <summary>Work that is advised but can wait; null for none.</summary>
    public EstimateGroup? Advised { get; init; }

    /// <summary>Everything together, where both groups are there; null leaves it out.</summary>
    public TotalsOnPaper? Together { get; init; }

    /// <summary>Why parts are held back, one sentence; printed where a line is held back.</summary>
    public string HeldBackReason { get; init; } = "";

    /// <summary>How sums are rounded, one sentence.</summary>
    public string RoundingNote { get; init; } = "";

    /// <summary>The shop's own legal words on estimates, handed in; line breaks are kept.</summary>
    public string LegalText { get; init; } = "";

    /// <summary>What was approved so far, oldest first. While empty, the paper has room to choose and sign.</summary>
    public ImmutableArray<ApprovalOnPaper> Approvals { get; init; } = [];
}

/// <summary>Lines of one choice with their sums.</summary>
public sealed record EstimateGroup
{
    /// <summary>The lines.</summary>
    public ImmutableArray<MoneyLine> Lines { get; init; } = [];

    /// <summary>Their sums.</summary>
    public TotalsOnPaper Totals { get; init; } = new();
}

/// <summary>A yes of the customer, as it was given.</summary>
public sealed record ApprovalOnPaper
{
    /// <summary>What was approved, in words: <c>everything needed now</c>, <c>coil and plug, not the air filter</c>.</summary>
    public required string What { get; init; }

    /// <summary>Up to what sum, as money; may be empty.</summary>
    public string Amount { get; init; } = "";

    /// <summary>By whom.</summary>
    public string By { get; init; } = "";

    /// <summary>How: <c>in person</c>, <c>by phone, 555-0119</c>, <c>in writing</c>.</summary>
    public string How { get; init; } = "";

    /// <summary>When, as written.</summary>
    public string When { get; init; } = "";

    /// <summary>A number to find it again by; may be empty.</summary>
    public string Reference { get; init; } = "";

    /// <summary>The signature, where one was drawn.</summary>
    public SignatureOnPaper? Signature { get; init; }
}
