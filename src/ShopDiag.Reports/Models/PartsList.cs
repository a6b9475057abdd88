using System.Collections.Immutable;
using System.Globalization;
using ShopDiag.Diagnosis.Workups;

namespace ShopDiag.Reports.Models;

/// <summary>
/// Everything the parts list says. It has no field for the customer, the plate or a price: what is not here cannot reach the counter.
/// </summary>
public sealed record PartsList
{
    private readonly string _qrText = "";

    /// <summary>The shop at the head of the paper.</summary>
    public required ShopOnPaper Shop { get; init; }

    /// <summary>The number of the repair order.</summary>
    public required int OrderNumber { get; init; }

    /// <summary>Text of the QR code at the head, such as the order's address or <c>RO 1042</c>; at most 200 letters, empty leaves it out.</summary>
    public string QrText
    {
        get => _qrText;
        init => _qrText = QrLimit.Checked(value);
    }

    /// <summary>The date of the list, in the shop's own time zone.</summary>
    public required DateOnly Date { get; init; }

    /// <summary>How dates and figures are written. Invariant (the default) writes dates as 2026-05-31. The words stay English.</summary>
    public CultureInfo Culture { get; init; } = CultureInfo.InvariantCulture;

    /// <summary>The vehicle and its engine.</summary>
    public required VehicleOnPaper Vehicle { get; init; }

    /// <summary>The parts in the order they are listed; numbered from 1 on paper and in the drawing.</summary>
    public ImmutableArray<RepairPart> Parts { get; init; } = [];

    /// <summary>The parts with vendor and state, in place of <see cref="Parts"/> where there are any.</summary>
    public ImmutableArray<PartOnPaper> Lines { get; init; } = [];

    /// <summary>When the parts are wanted, as written; empty leaves a line to write on.</summary>
    public string WantedBy { get; init; } = "";

    /// <summary>Why parts are asked for on a cause without proof; null when the cause is proven.</summary>
    public string? UnprovenReason { get; init; }
}
