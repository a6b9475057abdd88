using System.Collections.Immutable;
using ShopDiag.Comebacks.Repairs;
using ShopDiag.Diagnosis.BenchTests;
using ShopDiag.Diagnosis.Engines;
using ShopDiag.Diagnosis.Workups;
using ShopDiag.Estimates;

namespace ShopDiag.Storage.Orders;

/// <summary>Where a repair order stands, in the sequence of the work.</summary>
public enum OrderStage
{
    /// <summary>Written up at the counter; nobody has it yet.</summary>
    WrittenUp,

    /// <summary>The technician is looking for the cause.</summary>
    InDiagnosis,

    /// <summary>The finding is with the customer.</summary>
    AwaitingApproval,

    /// <summary>Approved; parts are on their way.</summary>
    AwaitingParts,

    /// <summary>Being repaired.</summary>
    InRepair,

    /// <summary>Repaired; readings are taken to prove it.</summary>
    RepairCheck,

    /// <summary>Proven and waiting for the customer.</summary>
    Ready,

    /// <summary>Gone.</summary>
    HandedOver,

    /// <summary>Made by mistake and closed: on record and to be found, but in no list and no figure. The last, though nothing leads to it but a mistake.</summary>
    MadeByMistake,
}

/// <summary>A customer. All fields may be empty while an order is being written up.</summary>
public sealed record Customer
{
    /// <summary>Key.</summary>
    public required Guid Id { get; init; }

    /// <summary>Name.</summary>
    public string Name { get; init; } = "";

    /// <summary>Telephone number as written.</summary>
    public string Phone { get; init; } = "";

    /// <summary>E-mail address as written.</summary>
    public string Email { get; init; } = "";
}

/// <summary>A vehicle with its engine.</summary>
public sealed record Vehicle
{
    /// <summary>Key.</summary>
    public required Guid Id { get; init; }

    /// <summary>Licence plate as written.</summary>
    public string Plate { get; init; } = "";

    /// <summary>Vehicle identification number as written, upper case; may be empty or fail its check digit.</summary>
    public string Vin { get; init; } = "";

    /// <summary>Maker and model.</summary>
    public string Description { get; init; } = "";

    /// <summary>Model year, or null.</summary>
    public int? Year { get; init; }

    /// <summary>The engine, or null while not chosen.</summary>
    public EngineSpec? Engine { get; init; }

    /// <summary>The engine in words (the profile's title).</summary>
    public string EngineTitle { get; init; } = "";
}

/// <summary>A reading as kept: never changed, at most superseded.</summary>
public sealed record StoredReading
{
    /// <summary>Made by the client before the first try to save, so that a repeated save is harmless.</summary>
    public required Guid Id { get; init; }

    /// <summary>The order's running number of the reading, from 1.</summary>
    public required int Sequence { get; init; }

    /// <summary>The reading; its <c>Supersedes</c> is not used here.</summary>
    public required Reading Reading { get; init; }

    /// <summary>The reading that this one corrects, or null.</summary>
    public Guid? SupersedesId { get; init; }

    /// <summary>True for a correction that takes a reading back without putting another in its place (undo).</summary>
    public bool Withdrawn { get; init; }

    /// <summary>True when a later reading supersedes it.</summary>
    public bool Superseded { get; init; }
}

/// <summary>A reading to be saved.</summary>
public sealed record NewReading
{
    /// <summary>Made by the client.</summary>
    public required Guid Id { get; init; }

    /// <summary>The reading.</summary>
    public required Reading Reading { get; init; }

    /// <summary>The reading that this one corrects, or null.</summary>
    public Guid? SupersedesId { get; init; }

    /// <summary>True to take the superseded reading back without another in its place.</summary>
    public bool Withdrawn { get; init; }
}

/// <summary>The finding as the technician took it over from the assessment: what paper and estimate are made from.</summary>
public sealed record OrderFinding
{
    /// <summary>The conclusion at the time.</summary>
    public required Conclusion Conclusion { get; init; }

    /// <summary>Probability at the time, 0 to 1.</summary>
    public required double Probability { get; init; }

    /// <summary>Why the finding was taken over without proof; null when proven.</summary>
    public string? UnprovenReason { get; init; }

    /// <summary>When, UTC.</summary>
    public required DateTime At { get; init; }

    /// <summary>By whom.</summary>
    public required string By { get; init; }
}

/// <summary>One step in the life of an order.</summary>
/// <param name="Stage">The stage it moved to.</param>
/// <param name="At">When, UTC.</param>
/// <param name="By">By whom.</param>
/// <param name="Reason">Why, where a reason was asked for (<see cref="StepRules"/>); empty otherwise.</param>
public sealed record StageMove(OrderStage Stage, DateTime At, string By, string Reason);

/// <summary>A repair order with everything on it.</summary>
public sealed record RepairOrder
{
    /// <summary>Key, made by the client.</summary>
    public required Guid Id { get; init; }

    /// <summary>The number on paper, from 1001.</summary>
    public required int Number { get; init; }

    /// <summary>Where it stands.</summary>
    public required OrderStage Stage { get; init; }

    /// <summary>The customer.</summary>
    public required Customer Customer { get; init; }

    /// <summary>The vehicle.</summary>
    public required Vehicle Vehicle { get; init; }

    /// <summary>The concern in the customer's words.</summary>
    public string ConcernText { get; init; } = "";

    /// <summary>The concern as the reasoning reads it: lamp, codes, conditions.</summary>
    public Concern Concern { get; init; } = new();

    /// <summary>Odometer as written, in <see cref="OdometerUnit"/>; null when not read.</summary>
    public int? Odometer { get; init; }

    /// <summary><c>km</c> or <c>mi</c>.</summary>
    public string OdometerUnit { get; init; } = "km";

    /// <summary>Promised for, UTC; null when no promise was made.</summary>
    public DateTime? PromisedAt { get; init; }

    /// <summary>Who has it.</summary>
    public string Technician { get; init; } = "";

    /// <summary>Diagnostic minutes that the customer authorised; 0 when none were agreed.</summary>
    public int AuthorisedMinutes { get; init; }

    /// <summary>Price of the diagnosis agreed, in minor units of the shop's currency; null when not agreed.</summary>
    public long? DiagnosisPriceMinor { get; init; }

    /// <summary>The earlier order that this one is a comeback of, or null.</summary>
    public Guid? ComebackOf { get; init; }

    /// <summary>What the shop said about whether it is a comeback; <see cref="ComebackAnswer.Yes"/> exactly when <see cref="ComebackOf"/> is there.</summary>
    public ComebackAnswer ComebackAnswer { get; init; }

    /// <summary>Who said so; empty while nobody has.</summary>
    public string ComebackAnsweredBy { get; init; } = "";

    /// <summary>When, UTC; null while nobody has.</summary>
    public DateTime? ComebackAnsweredAt { get; init; }

    /// <summary>What was repaired on the earlier order of which it is a comeback, and on those before that; the newest first. Worked out when the order is read, never saved.</summary>
    public ImmutableArray<EarlierRepair> EarlierRepairs { get; init; } = [];

    /// <summary>All readings in order of saving, superseded ones too.</summary>
    public ImmutableArray<StoredReading> Readings { get; init; } = [];

    /// <summary>Tests of which was said that they cannot be taken on this car, oldest first, those that have ended too.</summary>
    public ImmutableArray<StoredObstacle> Obstacles { get; init; } = [];

    /// <summary>The finding taken over, or null.</summary>
    public OrderFinding? Finding { get; init; }

    /// <summary>How it got where it stands, oldest first.</summary>
    public ImmutableArray<StageMove> Moves { get; init; } = [];

    /// <summary>Minutes really spent on the diagnosis; null while nobody said.</summary>
    public int? MinutesSpent { get; init; }

    /// <summary>The concern as a person wrote it up; empty while the draft stands.</summary>
    public string WrittenConcern { get; init; } = "";

    /// <summary>The cause as a person wrote it up; empty while the draft stands.</summary>
    public string WrittenCause { get; init; } = "";

    /// <summary>The correction as a person wrote it up; empty while the draft stands.</summary>
    public string WrittenCorrection { get; init; } = "";

    /// <summary>Whether the codes were cleared after the repair: <c>Yes</c>, <c>No</c>, or empty while nobody said.</summary>
    public string CodesCleared { get; init; } = "";

    /// <summary>Which monitors had run to the end after the repair, as noted.</summary>
    public string MonitorsNoted { get; init; } = "";

    /// <summary>The lines of the estimate, those taken off too.</summary>
    public ImmutableArray<EstimateLine> Estimate { get; init; } = [];

    /// <summary>What was said to the estimate, oldest first.</summary>
    public ImmutableArray<Approval> Approvals { get; init; } = [];

    /// <summary>The parts on their way to the car.</summary>
    public ImmutableArray<PartOnOrder> Parts { get; init; } = [];

    /// <summary>Written up, UTC.</summary>
    public required DateTime CreatedAt { get; init; }

    /// <summary>Where the estimate stands with the customer.</summary>
    public ApprovalState Approval => ApprovalState.Of(Estimate, Approvals);

    /// <summary>The workup for the reasoning, or null while no engine is chosen.</summary>
    public Workup? ToWorkup(ShopSetup shop) => OrderWorkup.From(this, shop);

    /// <summary>The text that the database has for a field: what the page shows, and what it hands back as the base value of a change.</summary>
    public string FieldText(OrderField field) => OrderFields.Of(field).Show(this);
}

/// <summary>One line of the list of orders.</summary>
public sealed record OrderSummary
{
    /// <summary>Key.</summary>
    public required Guid Id { get; init; }

    /// <summary>The number on paper.</summary>
    public required int Number { get; init; }

    /// <summary>Where it stands.</summary>
    public required OrderStage Stage { get; init; }

    /// <summary>Plate.</summary>
    public required string Plate { get; init; }

    /// <summary>Car in words with its year.</summary>
    public required string Car { get; init; }

    /// <summary>Customer's name.</summary>
    public required string CustomerName { get; init; }

    /// <summary>The concern in the customer's words, whole.</summary>
    public required string ConcernText { get; init; }

    /// <summary>Who has it.</summary>
    public required string Technician { get; init; }

    /// <summary>Promised for, UTC, or null.</summary>
    public required DateTime? PromisedAt { get; init; }

    /// <summary>Written up, UTC.</summary>
    public required DateTime CreatedAt { get; init; }

    /// <summary>The ids of the proven causes taken over, or empty.</summary>
    public required ImmutableArray<string> Causes { get; init; }

    /// <summary>The earlier order that this one is a comeback of, or null.</summary>
    public Guid? ComebackOf { get; init; }
}

/// <summary>A field of an order (or of its customer or vehicle) that saves itself as it is typed.</summary>
public enum OrderField
{
    /// <summary>Text.</summary>
    CustomerName,

    /// <summary>Text.</summary>
    CustomerPhone,

    /// <summary>Text.</summary>
    CustomerEmail,

    /// <summary>Text.</summary>
    VehiclePlate,

    /// <summary>Text, stored upper case.</summary>
    VehicleVin,

    /// <summary>Text.</summary>
    VehicleDescription,

    /// <summary>A whole number from 1950 to 2100, or empty.</summary>
    VehicleYear,

    /// <summary>A whole number from 0 to 9,999,999, or empty.</summary>
    Odometer,

    /// <summary><c>km</c> or <c>mi</c>.</summary>
    OdometerUnit,

    /// <summary>Text.</summary>
    ConcernText,

    /// <summary>Trouble codes separated by blanks or commas, or empty.</summary>
    ConcernCodes,

    /// <summary>A <see cref="Diagnosis.Workups.Lamp"/> by name.</summary>
    ConcernLamp,

    /// <summary>Conditions separated by commas, or empty.</summary>
    ConcernWhen,

    /// <summary>Text.</summary>
    Technician,

    /// <summary>UTC in round-trip form, or empty.</summary>
    PromisedAt,

    /// <summary>A whole number from 0 to 10,000.</summary>
    AuthorisedMinutes,

    /// <summary>Minor units, a whole number from 0, or empty.</summary>
    DiagnosisPriceMinor,

    /// <summary>A whole number from 0 to 10,000, or empty.</summary>
    MinutesSpent,

    /// <summary>Text; empty for the draft.</summary>
    WrittenConcern,

    /// <summary>Text; empty for the draft.</summary>
    WrittenCause,

    /// <summary>Text; empty for the draft.</summary>
    WrittenCorrection,

    /// <summary>Whether the codes were cleared after the repair: <c>Yes</c>, <c>No</c> or empty.</summary>
    CodesCleared,

    /// <summary>Text: which monitors had run to the end after the repair.</summary>
    MonitorsNoted,
}

/// <summary>How saving a field went.</summary>
public enum SaveOutcome
{
    /// <summary>Saved now.</summary>
    Saved,

    /// <summary>The same command was saved before; nothing was done.</summary>
    AlreadySaved,

    /// <summary>Somebody else changed it meanwhile; nothing was saved.</summary>
    Conflict,

    /// <summary>The text cannot be this field's value; nothing was saved.</summary>
    Refused,
}

/// <summary>The answer to a command.</summary>
/// <param name="Outcome">How it went.</param>
/// <param name="Current">The value that the database holds now.</param>
/// <param name="Message">For a conflict or a refusal: what and why, in plain words.</param>
public sealed record SaveResult(SaveOutcome Outcome, string Current, string Message = "");
