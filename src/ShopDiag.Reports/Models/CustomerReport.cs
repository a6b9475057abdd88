using System.Collections.Immutable;
using System.Globalization;
using ShopDiag.Diagnosis.Workups;

namespace ShopDiag.Reports.Models;

/// <summary>Everything the customer report says. Texts may be empty and of any length; what is empty is left out or shown as a gap to write on.</summary>
public sealed record CustomerReport
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

    /// <summary>The date of the report, in the shop's own time zone.</summary>
    public required DateOnly Date { get; init; }

    /// <summary>How dates and figures are written. Invariant (the default) writes dates as 2026-05-31. The words stay English.</summary>
    public CultureInfo Culture { get; init; } = CultureInfo.InvariantCulture;

    /// <summary>The customer's name.</summary>
    public string CustomerName { get; init; } = "";

    /// <summary>The vehicle and its engine.</summary>
    public required VehicleOnPaper Vehicle { get; init; }

    /// <summary>Licence plate.</summary>
    public string Plate { get; init; } = "";

    /// <summary>Odometer as written, with its unit.</summary>
    public string Odometer { get; init; } = "";

    /// <summary>The concern in the customer's own words.</summary>
    public string Concern { get; init; } = "";

    /// <summary>The warning lamp. Flashing adds the advice on driving.</summary>
    public Lamp Lamp { get; init; }

    /// <summary>What was tested, in the order it is told.</summary>
    public ImmutableArray<TestOnPaper> Tests { get; init; } = [];

    /// <summary>What is known of each cylinder, for the drawing of the engine. Cylinders left out are drawn as not tested.</summary>
    public ImmutableArray<CylinderOnPaper> Cylinders { get; init; } = [];

    /// <summary>Measures that a picture shows better than figures; one bar chart each.</summary>
    public ImmutableArray<MeasureChart> Charts { get; init; } = [];

    /// <summary>What was found; empty while the cause is not found, and the report says so.</summary>
    public ImmutableArray<FindingOnPaper> Findings { get; init; } = [];

    /// <summary>While the cause is not found: what is known and what comes next, in plain words.</summary>
    public string StillOpen { get; init; } = "";

    /// <summary>What is proposed, or null when nothing is proposed yet.</summary>
    public ProposalOnPaper? Proposal { get; init; }

    /// <summary>What the proposal costs, or null: then the parts, the labour and the price of the <see cref="Proposal"/> are printed in its place.</summary>
    public EstimateOnPaper? Estimate { get; init; }

    /// <summary>The photos that were chosen for the customer.</summary>
    public ImmutableArray<PhotoOnPaper> Photos { get; init; } = [];

    /// <summary>What happens if it waits, a short text a cause.</summary>
    public ImmutableArray<string> IfItWaits { get; init; } = [];

    /// <summary>What the customer must watch out for.</summary>
    public ImmutableArray<string> Cautions { get; init; } = [];

    /// <summary>True when a general limit of the trade decided a reading, not the maker's figure: the report says so.</summary>
    public bool DefaultLimitUsed { get; init; }
}
