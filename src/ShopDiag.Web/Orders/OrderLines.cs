using System.Globalization;
using ShopDiag.Diagnosis;
using ShopDiag.Diagnosis.Workups;
using ShopDiag.Storage.Orders;
using ShopDiag.Web.Parts;

namespace ShopDiag.Web.Orders;

/// <summary>What each part of an order came to, in one line.</summary>
public static class OrderLines
{
    /// <summary>Plate, car and year.</summary>
    public static string Car(RepairOrder order)
    {
        ArgumentNullException.ThrowIfNull(order);
        var vehicle = order.Vehicle;
        var car = Join(" ", vehicle.Year?.ToString(CultureInfo.InvariantCulture) ?? "", vehicle.Description);
        return Join(", ", vehicle.Plate, car) is { Length: > 0 } words ? words : "Car not said yet";
    }

    /// <summary>Concern, codes and lamp.</summary>
    public static string Concern(RepairOrder order)
    {
        ArgumentNullException.ThrowIfNull(order);
        var line = Join(", ", order.Customer.Name, StageWords.SixWords(order.ConcernText), string.Join(" ", order.Concern.Codes), LampInWords(order.Concern.Lamp));
        return line.Length > 0 ? line : "nothing written yet";
    }

    /// <summary>Readings and what is most likely.</summary>
    public static string Workup(OrderLive live)
    {
        ArgumentNullException.ThrowIfNull(live);
        if (live.Order.Vehicle.Engine is null)
        {
            return "no engine chosen yet";
        }

        var count = live.Order.Readings.Count(r => r is { Superseded: false, Withdrawn: false });
        return count switch
        {
            0 => "no readings yet",
            1 => "1 reading",
            _ => $"{count} readings",
        };
    }

    /// <summary>The finding taken over.</summary>
    public static string Finding(RepairOrder order)
    {
        ArgumentNullException.ThrowIfNull(order);
        return order.Finding is { } finding
            ? string.Join("; ", finding.Conclusion.Causes.Select(Named)) + (finding.UnprovenReason is null ? ", proven" : ", not proven")
            : "none taken over yet";
    }

    /// <summary>Where the parts are.</summary>
    public static string Parts(RepairOrder order)
    {
        ArgumentNullException.ThrowIfNull(order);
        return PartWords.Line(order.Parts);
    }

    /// <summary>A cause at its place.</summary>
    public static string Named(ProvenCause cause)
    {
        ArgumentNullException.ThrowIfNull(cause);
        return $"{Knowledge.Shipped.Cause(cause.Cause)?.Title ?? cause.Cause}, {cause.At}";
    }

    /// <summary>The lamp.</summary>
    public static string LampInWords(Lamp lamp) => lamp switch
    {
        Lamp.Unknown => "",
        Lamp.Off => "lamp off",
        Lamp.Steady => "lamp lit",
        Lamp.Flashing => "lamp flashing",
        _ => throw new InvalidOperationException($"Unknown lamp {lamp}."),
    };

    private static string Join(string between, params string[] parts) => string.Join(between, parts.Where(p => p.Length > 0));
}
