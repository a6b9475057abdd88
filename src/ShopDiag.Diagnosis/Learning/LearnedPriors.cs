using System.Collections.Immutable;

namespace ShopDiag.Diagnosis.Learning;

/// <summary>How common each cause is to begin with, after the shop's own proven cases. Made by <see cref="PriorLearning"/>.</summary>
public sealed record LearnedPriors
{
    /// <summary>The engines it speaks of; null for all engines together.</summary>
    public required EngineFamily? Family { get; init; }

    /// <summary>True when the family has cases enough to speak for itself; false when the cases of all engines decide.</summary>
    public required bool ByFamily { get; init; }

    /// <summary>Cases of the family; of all engines when it speaks of all.</summary>
    public required int Cases { get; init; }

    /// <summary>Cases of all engines.</summary>
    public required int AllCases { get; init; }

    /// <summary>
    /// Every cause that such an engine can have, in order of id, the entry for what is not listed among them. Their shares add up to 1.
    /// </summary>
    public required ImmutableArray<LearnedCause> Causes { get; init; }

    /// <summary>
    /// Weights by cause id for <see cref="Workups.ShopSetup.PriorWeights"/>: every cause of the knowledge, adding up to the shipped weights' sum.
    /// </summary>
    public required ImmutableDictionary<string, double> Weights { get; init; }
}

/// <summary>What the shop's cases did to one cause.</summary>
/// <param name="Cause">The cause's id.</param>
/// <param name="Shipped">Its share as shipped, 0 to 1.</param>
/// <param name="Learned">Its share with the shop's cases, 0 to 1.</param>
/// <param name="Cases">Cases of the cause on engines of the family; on all engines when all are spoken of.</param>
public sealed record LearnedCause(string Cause, double Shipped, double Learned, int Cases);
