using System.Collections.Immutable;
using System.Globalization;

namespace ShopDiag.Reports.Models;

/// <summary>Everything the invoice says: work and parts as done. Texts may be empty and of any length; what is empty is left out.</summary>
public sealed record Invoice
{
    private readonly string _qrText = "";

    /// <summary>The shop at the head of the paper.</summary>
    public required ShopOnPaper Shop { get; init; }

    /// <summary>Number of the invoice as written; empty where the order's number serves.</summary>
    public string InvoiceNumber { get; init; } = "";

    /// <summary>The number of the repair order.</summary>
    public required int OrderNumber { get; init; }

    /// <summary>Text of the QR code at the head, such as the order's address or <c>RO 1042</c>; at most 200 letters, empty leaves it out.</summary>
    public string QrText
    {
        get => _qrText;
        init => _qrText = QrLimit.Checked(value);
    }

    /// <summary>The date of the invoice, in the shop's own time zone.</summary>
    public required DateOnly Date { get; init; }

    /// <summary>How dates are written. Invariant (the default) writes dates as 2026-05-31. The words stay English.</summary>
    public CultureInfo Culture { get; init; } = CultureInfo.InvariantCulture;

    /// <summary>The customer's name.</summary>
    public string CustomerName { get; init; } = "";

    /// <summary>The customer's address; line breaks become commas.</summary>
    public string CustomerAddress { get; init; } = "";

    /// <summary>The vehicle and its engine.</summary>
    public required VehicleOnPaper Vehicle { get; init; }

    /// <summary>Licence plate.</summary>
    public string Plate { get; init; } = "";

    /// <summary>Odometer as written, with its unit.</summary>
    public string Odometer { get; init; } = "";

    /// <summary>The concern, as the write-up has it.</summary>
    public string Concern { get; init; } = "";

    /// <summary>The cause, as the write-up has it.</summary>
    public string Cause { get; init; } = "";

    /// <summary>The correction, as the write-up has it.</summary>
    public string Correction { get; init; } = "";

    /// <summary>Work and parts as done; what was fitted stands in <see cref="MoneyLine.Note"/>.</summary>
    public ImmutableArray<MoneyLine> Lines { get; init; } = [];

    /// <summary>Deposits charged on old parts, and those given back for cores that were returned.</summary>
    public ImmutableArray<CoreOnPaper> Cores { get; init; } = [];

    /// <summary>The sums.</summary>
    public TotalsOnPaper Totals { get; init; } = new();

    /// <summary>What was paid, a line each: how or when, and how much. Empty leaves it out.</summary>
    public ImmutableArray<PaymentOnPaper> Payments { get; init; } = [];

    /// <summary>What is left to pay, as money; empty leaves it out.</summary>
    public string Due { get; init; } = "";

    /// <summary>How sums are rounded, one sentence.</summary>
    public string RoundingNote { get; init; } = "";

    /// <summary>The approvals the work rests on, oldest first.</summary>
    public ImmutableArray<ApprovalOnPaper> Approvals { get; init; } = [];

    /// <summary>The repair check, or null when none was made.</summary>
    public RepairCheckOnPaper? RepairCheck { get; init; }

    /// <summary>The shop's own words on warranty, handed in; line breaks are kept.</summary>
    public string WarrantyText { get; init; } = "";

    /// <summary>What became of the replaced parts: given back, kept for the core, thrown away.</summary>
    public string ReturnedPartsNote { get; init; } = "";
}

/// <summary>A deposit on an old part.</summary>
/// <param name="Part">The part.</param>
/// <param name="State">What became of it, such as <c>core returned 2026-06-02</c>.</param>
/// <param name="Charge">The deposit, as money; may be empty.</param>
/// <param name="Credit">What was given back, as money; may be empty.</param>
public sealed record CoreOnPaper(string Part, string State, string Charge, string Credit);

/// <summary>A payment.</summary>
/// <param name="How">How and when, such as <c>card, 2026-06-02</c>.</param>
/// <param name="Amount">How much, as money.</param>
public sealed record PaymentOnPaper(string How, string Amount);
