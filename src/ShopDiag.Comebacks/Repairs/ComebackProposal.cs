using System.Collections.Immutable;

namespace ShopDiag.Comebacks.Repairs;

/// <summary>
/// An earlier repair of which a new order may be a comeback. It only proposes: whether it is the same trouble, another one or none is the shop's answer.
/// </summary>
public sealed record ComebackProposal
{
    /// <summary>The earlier order's key.</summary>
    public required Guid OrderId { get; init; }

    /// <summary>The earlier order's number on paper.</summary>
    public required int Number { get; init; }

    /// <summary>Days from its hand-over until the car came in again.</summary>
    public required int Days { get; init; }

    /// <summary>Kilometres since; null when either odometer was not read or the later one reads less.</summary>
    public required int? Kilometres { get; init; }

    /// <summary>What speaks for it, the time and distance first.</summary>
    public required ImmutableArray<ComebackReason> Reasons { get; init; }

    /// <summary>What is not the same, in plain words; empty when nothing is known to differ.</summary>
    public required ImmutableArray<string> Differences { get; init; }

    /// <summary>Puts proposals in order, the larger the likelier; from 0, without unit (<see cref="ComebackWeights"/>).</summary>
    public required double Strength { get; init; }

    /// <summary>
    /// The earlier repairs in the window of which a new order may be a comeback, the strongest first, of two alike the later. Cases of other vehicles, without a
    /// repaired cause, not handed over or handed over after the car came in are passed over.
    /// </summary>
    /// <param name="order">The new order.</param>
    /// <param name="earlier">The vehicle's cases, in any order.</param>
    /// <param name="window">The owner's window.</param>
    /// <param name="unit">In which unit distances are said.</param>
    public static ImmutableArray<ComebackProposal> For(
        ArrivedOrder order, IEnumerable<RepairCase> earlier, ComebackWindow window, DistanceUnit unit = DistanceUnit.Kilometres)
    {
        ArgumentNullException.ThrowIfNull(order);
        ArgumentNullException.ThrowIfNull(earlier);
        var now = ConcernSide.Of(order);
        return
        [
            .. earlier.Where(c => c.VehicleId == order.VehicleId && c.OrderId != order.OrderId && !c.Repaired.IsEmpty)
                .Select(c => Of(order, now, c, window, unit))
                .OfType<ComebackProposal>()
                .OrderByDescending(p => p.Strength)
                .ThenBy(p => p.Days)
                .ThenByDescending(p => p.Number),
        ];
    }

    /// <summary>True when a car that comes in on a day is still in the window of an earlier repair; false while the repair is not handed over, and for a day before it was.</summary>
    /// <param name="repair">The earlier repair.</param>
    /// <param name="cameInOn">The day the car comes in.</param>
    /// <param name="odometerKm">Kilometres then; null when not read.</param>
    /// <param name="window">The owner's window.</param>
    public static bool IsInWindow(RepairCase repair, DateOnly cameInOn, int? odometerKm, ComebackWindow window)
    {
        ArgumentNullException.ThrowIfNull(repair);
        return repair.HandedOverOn is { } handedOver && window.Holds(cameInOn.DayNumber - handedOver.DayNumber, Driven.Between(repair.OdometerKm, odometerKm));
    }

    private static ComebackProposal? Of(ArrivedOrder order, ConcernSide now, RepairCase repair, ComebackWindow window, DistanceUnit unit)
    {
        if (!IsInWindow(repair, order.CameInOn, order.OdometerKm, window))
        {
            return null;
        }

        var days = order.CameInOn.DayNumber - repair.HandedOverOn!.Value.DayNumber;
        var kilometres = Driven.Between(repair.OdometerKm, order.OdometerKm);
        var then = ConcernSide.Of(repair);
        ImmutableArray<ComebackReason> same = [.. SameIn(then, now)];
        return new()
        {
            OrderId = repair.OrderId,
            Number = repair.Number,
            Days = days,
            Kilometres = kilometres,
            Reasons = [new(ComebackReasonKind.Recent, ComebackWording.Since(repair.Number, days, kilometres, unit)), .. same],
            Differences = [.. DifferentIn(then, now)],
            Strength = same.Sum(r => ComebackWeights.Of(r.Kind)) + (ComebackWeights.Of(ComebackReasonKind.Recent) * (1 - ((double)days / window.Days))),
        };
    }

    private static IEnumerable<ComebackReason> SameIn(ConcernSide then, ConcernSide now)
    {
        if (then.Cylinders.Intersect(now.Cylinders) is { IsEmpty: false } cylinders)
        {
            yield return new(ComebackReasonKind.SameCylinder, ComebackWording.Cylinders(cylinders));
        }

        if (then.Banks.Intersect(now.Banks) is { IsEmpty: false } banks)
        {
            yield return new(ComebackReasonKind.SameBank, ComebackWording.Banks(banks));
        }

        if (then.Codes.Intersect(now.Codes) is { IsEmpty: false } codes)
        {
            yield return new(ComebackReasonKind.SameCode, ComebackWording.Codes(codes));
        }

        if (then.General && now.General)
        {
            yield return new(ComebackReasonKind.SameGeneralCode, ComebackWording.GeneralCode());
        }

        if (then.When.Intersect(now.When) is { IsEmpty: false } when)
        {
            yield return new(ComebackReasonKind.SameConditions, ComebackWording.Conditions(when.Order(StringComparer.Ordinal)));
        }

        if (then.Words.Intersect(now.Words) is { IsEmpty: false } words)
        {
            yield return new(ComebackReasonKind.SameWords, ComebackWording.Words(words));
        }
    }

    private static IEnumerable<string> DifferentIn(ConcernSide then, ConcernSide now)
    {
        if (!then.Cylinders.IsEmpty && !now.Cylinders.IsEmpty && !then.Cylinders.Overlaps(now.Cylinders))
        {
            yield return ComebackWording.OtherCylinders(then.Cylinders, now.Cylinders);
        }

        if (!then.When.IsEmpty && !now.When.IsEmpty && !then.When.Overlaps(now.When))
        {
            yield return ComebackWording.OtherConditions(then.When.Order(StringComparer.Ordinal), now.When.Order(StringComparer.Ordinal));
        }
    }
}

/// <summary>Distances from odometers.</summary>
internal static class Driven
{
    /// <summary>
    /// Kilometres from one reading to a later one; null when either is missing, and when the later reads less: the instrument was changed or a digit typed wrong.
    /// </summary>
    public static int? Between(int? from, int? to) => to - from is { } km and >= 0 ? km : null;
}
