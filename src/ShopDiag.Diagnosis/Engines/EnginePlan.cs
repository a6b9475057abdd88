using System.Collections.Immutable;

namespace ShopDiag.Diagnosis.Engines;

/// <summary>One cylinder on the plan: the centre in units of the cylinder pitch from the plan's upper left corner.</summary>
/// <param name="Cylinder">Its number.</param>
/// <param name="Bank">Its bank, from 1.</param>
/// <param name="X">Centre from the left; the engine's front is on the left.</param>
/// <param name="Y">Centre from the top; bank 1 is the uppermost row.</param>
public sealed record PlanCylinder(int Cylinder, int Bank, double X, double Y);

/// <summary>
/// The engine seen from above as numbers: cylinders where they stand, front on the left, one row a bank.
/// Drawn as SVG on the screen and in the PDF from these same numbers.
/// </summary>
public sealed record EnginePlan
{
    private const double RowPitch = 1.25;
    private const double Stagger = 0.25;

    /// <summary>The cylinders, in number order.</summary>
    public required ImmutableArray<PlanCylinder> Cylinders { get; init; }

    /// <summary>Width in cylinder pitches.</summary>
    public required double Width { get; init; }

    /// <summary>Height in cylinder pitches.</summary>
    public required double Height { get; init; }

    /// <summary>Number of banks.</summary>
    public required int Banks { get; init; }

    /// <summary>The plan in words for those who do not see it: <c>bank 1 front to rear: 1, 3, 5; bank 2: 2, 4, 6</c>.</summary>
    public required string InWords { get; init; }

    /// <summary>Lays out an engine. Further banks are set back by a quarter pitch, as connecting rods share crankpins.</summary>
    public static EnginePlan Of(Engine engine)
    {
        ArgumentNullException.ThrowIfNull(engine);
        var places = engine.Banks.SelectMany((bank, b) => bank.Select((cylinder, i) =>
            new PlanCylinder(cylinder, b + 1, 0.5 + i + (b % 2 * Stagger), 0.5 + (b * RowPitch))));
        return new EnginePlan
        {
            Cylinders = [.. places.OrderBy(p => p.Cylinder)],
            Width = engine.Banks.Max(b => b.Length) + (engine.Banks.Length > 1 ? Stagger : 0),
            Height = 1 + ((engine.Banks.Length - 1) * RowPitch),
            Banks = engine.Banks.Length,
            InWords = engine.Banks.Length == 1
                ? "Front to rear: " + string.Join(", ", engine.Banks[0])
                : string.Join("; ", engine.Banks.Select((bank, b) => $"bank {b + 1} front to rear: {string.Join(", ", bank)}")),
        };
    }
}
