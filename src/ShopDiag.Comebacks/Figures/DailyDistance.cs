using ShopDiag.Comebacks.Repairs;
using ShopDiag.Comebacks.Statistics;

namespace ShopDiag.Comebacks.Figures;

/// <summary>
/// How far a car has gone by a day on which nobody read its odometer. Needed because a car that came back always has a reading and one that did not mostly has none:
/// left out, or counted to its last reading only, the sound repairs would drop from the curve over distance and the comebacks stay.
/// </summary>
internal sealed class DailyDistance
{
    /// <summary>Kilometres a day where the shop's own cars do not tell: 40, about 15,000 a year. Common practice.</summary>
    public const double Usual = 40;

    /// <summary>Days between two readings from which on they tell how far a car is driven in a day; a weekend's trip does not.</summary>
    private const int LeastDays = 30;

    /// <summary>Cars with two readings from which on the shop's own median is used.</summary>
    private const int LeastCars = 10;

    /// <summary>More than this in a day is a digit typed wrong.</summary>
    private const double Most = 1000;

    /// <summary>Distances are told to 100 km: finer says nothing about a repair and makes curves of hundreds of thousands of points.</summary>
    private const int Step = 100;

    private DailyDistance(double typical) => Typical = typical;

    /// <summary>Kilometres a day of the middle car.</summary>
    public double Typical { get; }

    public static DailyDistance From(IEnumerable<(RepairCase Case, VehicleVisit? Seen)> cases)
    {
        var own = cases.Select(c => Own(c.Case, c.Seen)).OfType<double>().ToArray();
        return new(own.Length >= LeastCars ? Quartiles.Of(own).Median : Usual);
    }

    /// <summary>
    /// Kilometres from a repair to a day: to the last reading known, and from there as far as the car itself, or else the middle car, is driven in the days left.
    /// </summary>
    public (int Kilometres, bool Estimated) Until(DateOnly day, RepairCase repair, VehicleVisit? seen)
    {
        var known = Driven.Between(repair.OdometerKm, seen?.OdometerKm);
        var from = known is null ? repair.HandedOverOn!.Value : seen!.Value.On;
        var left = Math.Max(0, day.DayNumber - from.DayNumber);
        var kilometres = (known ?? 0) + (left * (Own(repair, seen) ?? Typical));
        return ((int)Math.Round(kilometres / Step, MidpointRounding.AwayFromZero) * Step, known is null || left > 0);
    }

    private static double? Own(RepairCase repair, VehicleVisit? seen) =>
        seen is { } visit && Driven.Between(repair.OdometerKm, visit.OdometerKm) is { } km
        && visit.On.DayNumber - repair.CameInOn.DayNumber is >= LeastDays and var days && km / (double)days is <= Most and var daily
            ? daily
            : null;
}
