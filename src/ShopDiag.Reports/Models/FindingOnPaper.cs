using System.Collections.Immutable;
using ShopDiag.Diagnosis.Workups;

namespace ShopDiag.Reports.Models;

/// <summary>One cause as the customer is told of it.</summary>
public sealed record FindingOnPaper
{
    private readonly double? _probability;

    /// <summary>The cause in the trade's words.</summary>
    public required string Cause { get; init; }

    /// <summary>Where, in words.</summary>
    public required string Place { get; init; }

    /// <summary>What it means, one plain sentence.</summary>
    public required string Sentence { get; init; }

    /// <summary>How sure the shop is, in words such as <c>very likely</c>; may be empty.</summary>
    public string Sureness { get; init; } = "";

    /// <summary>How sure the shop is, from 0 to 1, or null to leave the figure out. Never printed as 0 or 100 %.</summary>
    public double? Probability
    {
        get => _probability;
        init => _probability = value is null or (>= 0 and <= 1)
            ? value
            : throw new ArgumentOutOfRangeException(nameof(value), value, "A probability must be from 0 to 1.");
    }

    /// <summary>What the proving readings show, a sentence each.</summary>
    public ImmutableArray<string> Proof { get; init; } = [];

    /// <summary>Why it was taken over without proof; null when it is proven.</summary>
    public string? UnprovenReason { get; init; }
}

/// <summary>The repair that is proposed.</summary>
public sealed record ProposalOnPaper
{
    private readonly double _labourMinutes;

    /// <summary>What is to be done, a sentence or more.</summary>
    public required string Summary { get; init; }

    /// <summary>The parts it takes.</summary>
    public ImmutableArray<RepairPart> Parts { get; init; } = [];

    /// <summary>Usual labour in minutes, from 0 to 100,000; 0 leaves it out.</summary>
    public double LabourMinutes
    {
        get => _labourMinutes;
        init => _labourMinutes = value is >= 0 and <= 100_000
            ? value
            : throw new ArgumentOutOfRangeException(nameof(value), value, "Labour must be from 0 to 100,000 minutes.");
    }

    /// <summary>The price as written, or null: the customer is sent to the counter.</summary>
    public string? Price { get; init; }
}
