using System.Collections.Immutable;

namespace ShopDiag.Estimates;

/// <summary>Where a part is.</summary>
public enum PartState
{
    /// <summary>Approved, not ordered yet.</summary>
    Wanted,

    /// <summary>Ordered, on its way.</summary>
    Ordered,

    /// <summary>In the shop.</summary>
    Received,

    /// <summary>On the car.</summary>
    Fitted,

    /// <summary>Sent back unused.</summary>
    Returned,
}

/// <summary>A part that a customer approved, on its way to the car.</summary>
public sealed record PartOnOrder
{
    /// <summary>Key.</summary>
    public required Guid Id { get; init; }

    /// <summary>The order.</summary>
    public required Guid OrderId { get; init; }

    /// <summary>The line of the estimate that it comes from.</summary>
    public required Guid LineId { get; init; }

    /// <summary>What it is.</summary>
    public required string Text { get; init; }

    /// <summary>Where on the engine, in words; may be empty.</summary>
    public string Position { get; init; } = "";

    /// <summary>What must match.</summary>
    public string MustMatch { get; init; } = "";

    /// <summary>True when it is replaced together with another.</summary>
    public bool Together { get; init; }

    /// <summary>How many, from 1.</summary>
    public required int Quantity { get; init; }

    /// <summary>Where it is.</summary>
    public PartState State { get; init; }

    /// <summary>Who sells it.</summary>
    public string Vendor { get; init; } = "";

    /// <summary>Who makes it.</summary>
    public string Maker { get; init; } = "";

    /// <summary>The maker's number.</summary>
    public string PartNumber { get; init; } = "";

    /// <summary>When it is expected; null when nobody said.</summary>
    public DateOnly? ExpectedOn { get; init; }

    /// <summary>Deposit for each piece; 0 for none.</summary>
    public long CoreMinor { get; init; }

    /// <summary>True once the old part went back for its deposit.</summary>
    public bool CoreBack { get; init; }

    /// <summary>True when its cause was not proven.</summary>
    public bool Unproven { get; init; }

    /// <summary>How it got where it is, oldest first.</summary>
    public ImmutableArray<PartMove> Moves { get; init; } = [];
}

/// <summary>One step of a part.</summary>
/// <param name="State">Where it went.</param>
/// <param name="Quantity">How many.</param>
/// <param name="At">When, UTC.</param>
/// <param name="By">Who.</param>
public sealed record PartMove(PartState State, int Quantity, DateTime At, string By);
