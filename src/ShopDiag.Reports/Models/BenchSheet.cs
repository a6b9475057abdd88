using System.Collections.Immutable;
using System.Globalization;
using ShopDiag.Diagnosis.BenchTests;

namespace ShopDiag.Reports.Models;

/// <summary>The cylinder sheet on paper, blank or filled: tests down, cylinders across in bank order.</summary>
public sealed record BenchSheet
{
    private readonly string _qrText = "";
    private readonly VehicleOnPaper _vehicle = new();

    /// <summary>The shop at the head of the paper.</summary>
    public required ShopOnPaper Shop { get; init; }

    /// <summary>The number of the repair order; null for a sheet of no order, with lines to write on.</summary>
    public int? OrderNumber { get; init; }

    /// <summary>Text of the QR code at the head, such as the order's address or <c>RO 1042</c>; at most 200 letters, empty leaves it out.</summary>
    public string QrText
    {
        get => _qrText;
        init => _qrText = QrLimit.Checked(value);
    }

    /// <summary>The date of the sheet, in the shop's own time zone; stands on it where there is an order.</summary>
    public required DateOnly Date { get; init; }

    /// <summary>How dates are written. Invariant (the default) writes dates as 2026-05-31. The words stay English.</summary>
    public CultureInfo Culture { get; init; } = CultureInfo.InvariantCulture;

    /// <summary>The vehicle; its engine must be there, for it gives the sheet its columns.</summary>
    public required VehicleOnPaper Vehicle
    {
        get => _vehicle;
        init => _vehicle = value?.Engine is null ? throw new ArgumentException("A bench sheet needs an engine.", nameof(value)) : value;
    }

    /// <summary>The technician; empty leaves a line to write on.</summary>
    public string Technician { get; init; } = "";

    /// <summary>The concern in the customer's own words; empty leaves a line to write on.</summary>
    public string Concern { get; init; } = "";

    /// <summary>The tests of the sheet, in order.</summary>
    public ImmutableArray<BenchSheetTest> Tests { get; init; } = [];

    /// <summary>What could not be taken on this car, a line each, with why and by whom it was said.</summary>
    public ImmutableArray<string> NotPossible { get; init; } = [];

    /// <summary>What can hurt or harm, before the work begins.</summary>
    public ImmutableArray<string> Cautions { get; init; } = [];

    /// <summary>Notes; room to write is left below them.</summary>
    public string Notes { get; init; } = "";
}

/// <summary>One test of the sheet.</summary>
/// <param name="Title">The test's title.</param>
/// <param name="Hint">Unit, and what to mind when reading, in a few words; may be empty.</param>
/// <param name="Scope">Where there is room to write: for each cylinder, each bank or the engine.</param>
/// <param name="Readings">What was read; none on a blank sheet. Readings elsewhere (a pair, another scope) get a row of their own.</param>
public sealed record BenchSheetTest(string Title, string Hint, TestScope Scope, ImmutableArray<ReadingOnPaper> Readings);
