using System.Collections.Immutable;
using ShopDiag.Comebacks.Repairs;
using ShopDiag.Storage.Orders;

namespace ShopDiag.Storage.Comebacks;

/// <summary>An order as far as a case needs it.</summary>
internal sealed record CaseOrder
{
    public required Guid Id { get; init; }

    public required int Number { get; init; }

    public required Guid VehicleId { get; init; }

    public required OrderStage Stage { get; init; }

    public required DateTime CreatedAt { get; init; }

    public required int? Odometer { get; init; }

    public required string OdometerUnit { get; init; }

    public required string Codes { get; init; }

    public required string When { get; init; }

    public required string ConcernText { get; init; }

    public required string Technician { get; init; }

    public required int AuthorisedMinutes { get; init; }

    public required long? DiagnosisPriceMinor { get; init; }

    public required int? MinutesSpent { get; init; }

    public required Guid? ComebackOf { get; init; }

    public required ComebackAnswer Answer { get; init; }

    public required string? EngineJson { get; init; }

    /// <summary>Kilometres when it came in.</summary>
    public int? Kilometres => Odometer is { } read && OdometerUnit == "mi" ? (int)Math.Round(read * CaseRows.KilometresPerMile, MidpointRounding.AwayFromZero) : Odometer;
}

/// <summary>The finding of an order that counts.</summary>
/// <param name="Repaired">Its causes.</param>
/// <param name="Proven">True when it was taken over with proof.</param>
internal sealed record CaseFinding(ImmutableArray<RepairedCause> Repaired, bool Proven);

/// <summary>Small things that cases are made of.</summary>
internal static class CaseRows
{
    /// <summary>The international mile.</summary>
    public const double KilometresPerMile = 1.609344;

    /// <summary>The day of a time in the shop.</summary>
    public static DateOnly Day(DateTime utc, TimeZoneInfo zone) =>
        DateOnly.FromDateTime(TimeZoneInfo.ConvertTimeFromUtc(DateTime.SpecifyKind(utc, DateTimeKind.Utc), zone));
}
