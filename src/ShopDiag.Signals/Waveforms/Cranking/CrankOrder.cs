using System.Collections.Immutable;

namespace ShopDiag.Signals.Waveforms.Cranking;

/// <summary>Which cylinder stands at which place of the firing order.</summary>
internal static class CrankOrder
{
    /// <summary>A pulse further than this share of the distance between two compressions from either belongs to neither for sure.</summary>
    private const double Nearest = 0.4;

    /// <summary>Throws where an order that is given does not name each cylinder once.</summary>
    public static void Check(int cylinders, ImmutableArray<int> order)
    {
        if (!order.IsDefaultOrEmpty && (order.Length != cylinders || order.Distinct().Count() != cylinders))
        {
            throw new ArgumentException("The firing order names each cylinder once.", nameof(order));
        }
    }

    /// <summary>How many places in the firing order position 0 stands at, and what is to be said; null where nothing tells.</summary>
    public static (int? Offset, string? Remark) Offset(CrankingRequest request, FittedCranking fitted, IReadOnlyList<double> pulses)
    {
        const string Unknown = "In firing order, the start unknown";
        if (request.Sync is not { } sync || request.FiringOrder.IsDefaultOrEmpty)
        {
            return (null, $"{Unknown}: take a sync trace from the ignition of a known cylinder, and give the firing order.");
        }

        var place = request.FiringOrder.IndexOf(sync.Cylinder);
        if (place < 0)
        {
            return (null, $"{Unknown}: cylinder {sync.Cylinder} is not in the firing order.");
        }

        var angles = pulses.Select(p => fitted.CyclesAt(p, CrankingStretch.Hertz)).OfType<double>().ToArray();
        var perCycle = angles.Length / Math.Max(1e-9, fitted.CyclesInAll);
        if (perCycle is < 0.7 or > 1.35)
        {
            return (null, FormattableString.Invariant($"{Unknown}: the sync trace has {perCycle:0.0} pulses a working cycle, not one.")
                + (perCycle is > 1.7 and < 2.3 ? " A coil that fires two cylinders cannot tell them apart." : ""));
        }

        var before = sync.DegreesBefore / 720;
        var (sin, cos) = angles.Aggregate((Sin: 0.0, Cos: 0.0), (s, a) => (s.Sin + Math.Sin(2 * Math.PI * (a + before)), s.Cos + Math.Cos(2 * Math.PI * (a + before))));
        var at = Math.Atan2(sin, cos) / (2 * Math.PI) * request.Cylinders;
        var position = (int)Math.Round(at);
        if (Math.Abs(at - position) > Nearest || Math.Sqrt((sin * sin) + (cos * cos)) < 0.9 * angles.Length)
        {
            return (null, $"{Unknown}: the sync pulses lie between two compressions.");
        }

        return ((((place - position) % request.Cylinders) + request.Cylinders) % request.Cylinders, null);
    }
}
