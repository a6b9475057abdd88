using System.Collections.Immutable;
using System.Globalization;
using Microsoft.AspNetCore.Components;
using ShopDiag.Diagnosis.Engines;

namespace ShopDiag.Web.Components.EngineViews;

/// <summary>Draws an <see cref="EnginePlan"/> with what is known of each cylinder.</summary>
public sealed partial class EnginePlanView
{
    // Drawing units. One cylinder pitch is 110 across; the cell leaves a gap of 10 so that neighbours are never touched by mistake.
    private const double Pitch = 110;
    private const double CellWide = 100;
    private const double CellHigh = 108;
    private const double SmallCellHigh = 72;
    private const double BarInset = 10;
    private const double BarLong = CellWide - (2 * BarInset);

    private readonly string _id = "plan" + Guid.NewGuid().ToString("N")[..8];
    private EnginePlan _plan = null!;
    private Engine? _drawn;

    /// <summary>The engine.</summary>
    [Parameter, EditorRequired] public required Engine Engine { get; set; }

    /// <summary>What is known of each cylinder; cylinders that are missing are drawn blank.</summary>
    [Parameter] public ImmutableArray<CylinderMark> Marks { get; set; } = [];

    /// <summary>The cylinder chosen, or null.</summary>
    [Parameter] public int? Selected { get; set; }

    /// <summary>Called with the cylinder touched. Without it the plan is a picture only.</summary>
    [Parameter] public EventCallback<int> OnCylinder { get; set; }

    /// <summary>Numbers only, half the height: for lists and pickers.</summary>
    [Parameter] public bool Small { get; set; }

    /// <summary>Name of the picture.</summary>
    [Parameter] public string Title { get; set; } = "Engine seen from above";

    /// <summary>Further CSS class.</summary>
    [Parameter] public string? Class { get; set; }

    private double High => (_plan.Height - 1) * Pitch * RowScale + CellHeight + 4;

    // Room on the left for the bank's name and the arrow to the front.
    private double Gutter => Small ? 26 : 76;

    private double Wide => Gutter + (_plan.Width * Pitch);

    private double CellHeight => Small ? SmallCellHigh : CellHigh;

    private double RowScale => Small ? 0.7 : 1;

    private string InWords => Marks.IsDefaultOrEmpty
        ? _plan.InWords + "."
        : $"{_plan.InWords}. {string.Join(" ", Marks.OrderBy(m => m.Cylinder).Where(m => m.Word.Length > 0).Select(m => $"Cylinder {m.Cylinder} {m.Word}."))}";

    /// <inheritdoc/>
    protected override void OnParametersSet()
    {
        if (!ReferenceEquals(_drawn, Engine))
        {
            (_drawn, _plan) = (Engine, EnginePlan.Of(Engine));
        }
    }

    // Numbers inside markup follow SVG's syntax, whatever the shop's culture writes for a decimal point.
    private static string N(double value) => Math.Round(value, 2, MidpointRounding.AwayFromZero).ToString(CultureInfo.InvariantCulture);

    private static string Percent(double part, double whole) => N(part / whole * 100) + "%";

    private CylinderMark Mark(int cylinder) => Marks.IsDefaultOrEmpty
        ? CylinderMark.Blank(cylinder)
        : Marks.FirstOrDefault(m => m.Cylinder == cylinder) ?? CylinderMark.Blank(cylinder);

    private double Left(PlanCylinder place) => Gutter + ((place.X - 0.5) * Pitch) + ((Pitch - CellWide) / 2);

    private double Top(PlanCylinder place) => 2 + ((place.Y - 0.5) * Pitch * RowScale);

    private double RowY(int bank) => Top(_plan.Cylinders.First(c => c.Bank == bank)) + (CellHeight / 2);

    private string Fill(string pattern) => pattern switch
    {
        "none" => "none",
        "solid" => "currentColor",
        _ => $"url(#{_id}-{pattern})",
    };
}
