using System.Globalization;
using ShopDiag.Comebacks.Repairs;
using ShopDiag.Storage.Orders;

namespace ShopDiag.Web.Orders;

/// <summary>Small words about comebacks.</summary>
public static class ComebackWords
{
    private const double KilometresAMile = 1.609344;

    /// <summary>What the odometer of an order read, in kilometres; null when it was not read.</summary>
    public static int? Kilometres(RepairOrder order)
    {
        ArgumentNullException.ThrowIfNull(order);
        return order is { OdometerUnit: "mi", Odometer: { } miles } ? (int)Math.Round(miles * KilometresAMile, MidpointRounding.AwayFromZero) : order.Odometer;
    }

    /// <summary>How long after the hand-over a car came back with the same trouble.</summary>
    public static string Return(RepairCase back, DateOnly? handedOver)
    {
        ArgumentNullException.ThrowIfNull(back);
        var days = handedOver is { } day ? Math.Max(0, back.CameInOn.DayNumber - day.DayNumber) : (int?)null;
        return days switch
        {
            null => "with the same trouble.",
            0 => "with the same trouble, the same day.",
            1 => "with the same trouble, a day later.",
            { } more => string.Create(CultureInfo.InvariantCulture, $"with the same trouble, {more} days later."),
        };
    }
}
