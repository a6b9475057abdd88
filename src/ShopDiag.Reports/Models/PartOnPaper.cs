using ShopDiag.Diagnosis.Workups;

namespace ShopDiag.Reports.Models;

/// <summary>One line of the parts list, with where it comes from and how far it has come. It has no field for the customer or a price.</summary>
/// <param name="Part">What is needed, how many and where.</param>
public sealed record PartOnPaper(RepairPart Part)
{
    /// <summary>The maker's or the vendor's number of the part; may be empty.</summary>
    public string Number { get; init; } = "";

    /// <summary>Whom it is bought from; may be empty.</summary>
    public string Vendor { get; init; } = "";

    /// <summary>When it is wanted, as written, where that differs from the list's own; may be empty.</summary>
    public string WantedBy { get; init; } = "";

    /// <summary>What it is fitted together with, in words such as <c>the coil of cylinder 3</c>; may be empty.</summary>
    public string FittedWith { get; init; } = "";

    /// <summary>How far it has come: <c>wanted</c>, <c>ordered June 1</c>, <c>received</c>, <c>held back</c>; may be empty.</summary>
    public string State { get; init; } = "";
}
