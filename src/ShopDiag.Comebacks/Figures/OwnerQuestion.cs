using ShopDiag.Comebacks.Repairs;

namespace ShopDiag.Comebacks.Figures;

/// <summary>Which repairs the owner asks about, and how things stood when.</summary>
public sealed record OwnerQuestion
{
    /// <summary>The day as of which everything is counted: what happened after it is not known yet. Usually today.</summary>
    public required DateOnly AsOf { get; init; }

    /// <summary>Within which time and distance the same trouble counts as a comeback.</summary>
    public ComebackWindow Window { get; init; } = ComebackWindow.Usual;

    /// <summary>The first day of hand-over that counts, or null for all before.</summary>
    public DateOnly? From { get; init; }

    /// <summary>The last day of hand-over that counts, or null for all until <see cref="AsOf"/>.</summary>
    public DateOnly? To { get; init; }

    /// <summary>Only the repairs of one who is named so, capitals and blanks around it aside; null for everybody's.</summary>
    public string? Technician { get; init; }

    /// <summary>True for a repair that is asked about.</summary>
    internal bool Covers(RepairCase repair) =>
        (Technician is null || string.Equals(repair.Technician.Trim(), Technician.Trim(), StringComparison.OrdinalIgnoreCase)) && repair.HandedOverOn is { } day && day <= AsOf && !repair.Repaired.IsEmpty && !(day < From) && !(day > To);
}
