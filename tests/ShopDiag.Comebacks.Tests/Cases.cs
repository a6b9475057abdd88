using ShopDiag.Comebacks.Repairs;
using ShopDiag.Diagnosis;

namespace ShopDiag.Comebacks.Tests;

/// <summary>Invented repairs. Day 0 is 1 January 2030.</summary>
internal static class Cases
{
    public static readonly DateOnly Start = new(2030, 1, 1);

    public static DateOnly Day(int day) => Start.AddDays(day);

    /// <summary>A key that a number stands for, so that tests read like the order book.</summary>
    public static Guid Key(int number) => new(number, 0, 0, new byte[8]);

    /// <summary>An order on which the coil at cylinder 4 was replaced, handed over on the day it came in.</summary>
    public static RepairCase Repair(int number, int day, int? km = 50_000, int vehicle = 1) => new()
    {
        OrderId = Key(number),
        Number = number,
        VehicleId = Key(vehicle),
        CameInOn = Day(day),
        HandedOverOn = Day(day),
        OdometerKm = km,
        Repaired = [new("coil-failed", Place.Cylinder(4))],
    };

    /// <summary>An order still in the building that somebody said something about.</summary>
    public static RepairCase Back(int number, int day, int of, int? km = 51_000, ComebackAnswer answer = ComebackAnswer.Yes, int vehicle = 1) =>
        Repair(number, day, km, vehicle) with { HandedOverOn = null, Repaired = [], ComebackOf = Key(of), Answer = answer };
}
