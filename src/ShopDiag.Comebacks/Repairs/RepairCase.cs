using System.Collections.Immutable;
using ShopDiag.Diagnosis;

namespace ShopDiag.Comebacks.Repairs;

/// <summary>What the shop said about an order that looked like a comeback.</summary>
public enum ComebackAnswer
{
    /// <summary>Nobody has said yet, or nothing was proposed.</summary>
    Undecided,

    /// <summary>The same trouble again.</summary>
    Yes,

    /// <summary>No comeback.</summary>
    No,

    /// <summary>The same car with another trouble.</summary>
    OtherTrouble,
}

/// <summary>A cause that was repaired.</summary>
/// <param name="Cause">The cause's id.</param>
/// <param name="At">Where it sat.</param>
public readonly record struct RepairedCause(string Cause, Place At);

/// <summary>A part that was fitted.</summary>
/// <param name="Name">What it is, as on the order.</param>
/// <param name="Maker">Who made it; empty when not said.</param>
/// <param name="Vendor">Who sold it to the shop; empty when not said.</param>
/// <param name="WithoutProof">True when it was fitted though the cause was not proven.</param>
public sealed record FittedPart(string Name, string Maker, string Vendor, bool WithoutProof);

/// <summary>When a vehicle was in the shop, and what its odometer read.</summary>
/// <param name="On">The day.</param>
/// <param name="OdometerKm">Kilometres; null when not read.</param>
public readonly record struct VehicleVisit(DateOnly On, int? OdometerKm);

/// <summary>
/// One repair order as the owner's figures count it: what was found and repaired, by whom and with what, and whether it came back. Every order on which something was
/// repaired belongs among the cases, and every order that was confirmed or proposed as a comeback, even while the car is still in the building.
/// </summary>
public sealed record RepairCase
{
    /// <summary>The order's key.</summary>
    public required Guid OrderId { get; init; }

    /// <summary>The number on paper.</summary>
    public required int Number { get; init; }

    /// <summary>The vehicle's key.</summary>
    public required Guid VehicleId { get; init; }

    /// <summary>The day the car came in, in the shop's time.</summary>
    public required DateOnly CameInOn { get; init; }

    /// <summary>The day it was handed over; null while it is in the building, and the order is then no repair that could come back.</summary>
    public DateOnly? HandedOverOn { get; init; }

    /// <summary>Kilometres when it came in; null when not read.</summary>
    public int? OdometerKm { get; init; }

    /// <summary>The causes repaired; empty when none was. An order with several counts once for each when diagnoses are looked at, and once in all.</summary>
    public ImmutableArray<RepairedCause> Repaired { get; init; } = [];

    /// <summary>The ids of the causes repaired, each once.</summary>
    internal IEnumerable<string> Causes => Repaired.Length == 1 ? [Repaired[0].Cause] : Repaired.Select(r => r.Cause).Distinct();

    /// <summary>Trouble codes it came in with, upper case.</summary>
    public ImmutableArray<string> Codes { get; init; } = [];

    /// <summary>Conditions under which it happened, as in <see cref="Diagnosis.Workups.Concern.When"/>.</summary>
    public ImmutableArray<string> When { get; init; } = [];

    /// <summary>The concern in the customer's words.</summary>
    public string ConcernText { get; init; } = "";

    /// <summary>Who had it; empty when not said.</summary>
    public string Technician { get; init; } = "";

    /// <summary>Id of the engine's family (<see cref="Diagnosis.Learning.EngineFamily.Id"/>); empty when the engine was not chosen.</summary>
    public string EngineFamily { get; init; } = "";

    /// <summary>The parts fitted.</summary>
    public ImmutableArray<FittedPart> Parts { get; init; } = [];

    /// <summary>True when the finding was proven, false when it was taken over without proof; null when neither is known.</summary>
    public bool? ProofGiven { get; init; }

    /// <summary>True when the readings after the repair came to an answer, good or not; false when none were taken or they prove nothing; null when neither is known.</summary>
    public bool? RepairChecked { get; init; }

    /// <summary>Bench minutes from the first reading to the proof; null when there is none.</summary>
    public double? MinutesToProof { get; init; }

    /// <summary>Minutes that the customer authorised; null when none were agreed.</summary>
    public int? MinutesAuthorised { get; init; }

    /// <summary>Minutes billed; null when not billed yet.</summary>
    public int? MinutesBilled { get; init; }

    /// <summary>Minutes spent; null when not kept.</summary>
    public int? MinutesSpent { get; init; }

    /// <summary>The earlier order that this one was proposed or entered as a comeback of; null when none was.</summary>
    public Guid? ComebackOf { get; init; }

    /// <summary>What the shop said about that.</summary>
    public ComebackAnswer Answer { get; init; }

    /// <summary>The vehicle's latest visit of any kind after this order; null when it was not seen again.</summary>
    public VehicleVisit? LastSeen { get; init; }
}
