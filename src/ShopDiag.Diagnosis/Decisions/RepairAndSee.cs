using System.Collections.Immutable;

namespace ShopDiag.Diagnosis.Decisions;

/// <summary>
/// Whether repairing the likeliest and seeing is cheaper than proving first. All in bench minutes; parts are counted as minutes of the shop's labour rate.
/// </summary>
/// <remarks>
/// Proof first costs, for each cause, its proof and its repair. Repairing and seeing costs the first repair in any case and, where that does not help, proof and repair
/// of the cause that is left; proving the others is taken to be no shorter for it. The difference is p T saved against (1 - p) R spent in vain, T the minutes to the
/// proof and R those of the repair. It is never advised for what is dear, safety-relevant or less likely than not: no guessed parts (common practice).
/// </remarks>
public static class RepairAndSee
{
    /// <summary>Below this probability a repair is never advised unproven. Common practice: no guessed parts.</summary>
    public const double LeastProbability = 0.5;

    /// <summary>
    /// Parts above this many minutes of labour are never advised unproven. Common practice: a plug while the plugs are out anyway, a vacuum hose, a cleaned ground; not a coil.
    /// </summary>
    public const double MostPartsMinutes = 10;

    /// <summary>
    /// Weighs the causes of a belief, of which at most one is there; what is left to 1 costs the same either way and is not counted. The first in p/C order that may be repaired unproven is set against proof first. Throws
    /// <see cref="ArgumentException"/> where the probabilities add up to more than 1.
    /// </summary>
    public static RepairAndSeeAnswer Weigh(IEnumerable<SuspectedCause> causes)
    {
        ArgumentNullException.ThrowIfNull(causes);
        var order = causes.OrderByDescending(c => c.Ratio).ToImmutableArray();
        DecisionChecks.AtMostOne(order.Select(c => c.Probability), nameof(causes));
        var first = order.FirstOrDefault(c => c.Bar == RepairBar.None);
        var proofFirst = order.Sum(Proven);
        return new RepairAndSeeAnswer
        {
            Order = order,
            First = first,
            ProofFirstMinutes = proofFirst,
            RepairFirstMinutes = first is null ? null : first.RepairMinutes + proofFirst - Proven(first),
        };
    }

    private static double Proven(SuspectedCause cause) => cause.Probability * (cause.ProofMinutes + cause.RepairMinutes);
}

/// <summary>Why a repair is not advised unproven whatever it would save.</summary>
public enum RepairBar
{
    /// <summary>Nothing bars it.</summary>
    None,

    /// <summary>Brakes, fuel under pressure, high voltage, steering: what hurts when it is done for nothing or half.</summary>
    SafetyRelevant,

    /// <summary>Its parts cost more than <see cref="RepairAndSee.MostPartsMinutes"/>.</summary>
    DearParts,

    /// <summary>It is less likely than <see cref="RepairAndSee.LeastProbability"/>.</summary>
    Unlikely,
}

/// <summary>A cause that is suspected, with what it takes to repair and to prove it.</summary>
public sealed record SuspectedCause
{
    private readonly double _probability;
    private readonly double _labour;
    private readonly double _parts;
    private readonly double _check;
    private readonly double _proof;

    /// <summary>Its name.</summary>
    public required string Id { get; init; }

    /// <summary>Probability from 0 to 1.</summary>
    public required double Probability { get => _probability; init => _probability = DecisionChecks.Probability(value, nameof(Probability)); }

    /// <summary>Labour of the repair in minutes from where the engine stands, access included.</summary>
    public required double LabourMinutes { get => _labour; init => _labour = DecisionChecks.Cost(value, nameof(LabourMinutes)); }

    /// <summary>Its parts as minutes of the labour rate.</summary>
    public required double PartsMinutes { get => _parts; init => _parts = DecisionChecks.Cost(value, nameof(PartsMinutes)); }

    /// <summary>Minutes of the reading that shows whether it helped.</summary>
    public required double CheckMinutes { get => _check; init => _check = DecisionChecks.Cost(value, nameof(CheckMinutes)); }

    /// <summary>Expected minutes from now to the proof, where this is the cause.</summary>
    public required double ProofMinutes { get => _proof; init => _proof = DecisionChecks.Cost(value, nameof(ProofMinutes)); }

    /// <summary>True where a repair for nothing, or one that did not hold, can hurt someone.</summary>
    public bool SafetyRelevant { get; init; }

    /// <summary>Labour, parts and check together.</summary>
    public double RepairMinutes => LabourMinutes + PartsMinutes + CheckMinutes;

    /// <summary>p/C of repairing and seeing.</summary>
    public double Ratio => RepairMinutes > 0 ? Probability / RepairMinutes : double.PositiveInfinity;

    /// <summary>What bars the repair unless it is proven.</summary>
    public RepairBar Bar => SafetyRelevant ? RepairBar.SafetyRelevant
        : PartsMinutes > RepairAndSee.MostPartsMinutes ? RepairBar.DearParts
        : Probability < RepairAndSee.LeastProbability ? RepairBar.Unlikely
        : RepairBar.None;
}

/// <summary>Repairing and seeing set against proof first, with the figures that explain it.</summary>
public sealed record RepairAndSeeAnswer
{
    /// <summary>The causes in p/C order.</summary>
    public required ImmutableArray<SuspectedCause> Order { get; init; }

    /// <summary>The first of them that may be repaired unproven, or null; each of the others says by its <see cref="SuspectedCause.Bar"/> why not.</summary>
    public required SuspectedCause? First { get; init; }

    /// <summary>Expected minutes to a repaired car when the cause is proven first.</summary>
    public required double ProofFirstMinutes { get; init; }

    /// <summary>Expected minutes to a repaired car when <see cref="First"/> is repaired and one sees, parts fitted in vain included; null where nothing may be.</summary>
    public required double? RepairFirstMinutes { get; init; }

    /// <summary>True when repairing and seeing is cheaper.</summary>
    public bool IsAdvised => RepairFirstMinutes < ProofFirstMinutes;

    /// <summary>Expected minutes of proof that are saved: the chance that it is <see cref="First"/> times its proof.</summary>
    public double ProofMinutesSaved => First is null ? 0 : First.Probability * First.ProofMinutes;

    /// <summary>Expected minutes spent in vain, the part included: the chance that it is not <see cref="First"/> times its repair.</summary>
    public double MinutesInVain => First is null ? 0 : (1 - First.Probability) * First.RepairMinutes;
}
