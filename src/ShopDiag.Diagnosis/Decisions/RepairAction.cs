using System.Collections.Immutable;

namespace ShopDiag.Diagnosis.Decisions;

/// <summary>
/// A thing that can be done about a trouble with one cause: look at it and, if it is the cause, repair it. Costs are in any one unit (minutes, money), used throughout.
/// Where a part is fitted and one sees whether it helped, all of it is <see cref="Cost"/>.
/// </summary>
public sealed record RepairAction
{
    /// <summary>Makes an action. Throws <see cref="ArgumentOutOfRangeException"/> for a probability outside 0 to 1 or a cost that is not finite or below 0.</summary>
    /// <param name="id">Its name.</param>
    /// <param name="probability">Probability from 0 to 1 that it ends the trouble.</param>
    /// <param name="cost">What it costs whether or not it ends the trouble.</param>
    /// <param name="repairCost">What it costs on top when it does: the repair after a look that found the cause.</param>
    public RepairAction(string id, double probability, double cost, double repairCost = 0)
    {
        ArgumentException.ThrowIfNullOrEmpty(id);
        (Id, Probability) = (id, DecisionChecks.Probability(probability, nameof(probability)));
        (Cost, RepairCost) = (DecisionChecks.Cost(cost, nameof(cost)), DecisionChecks.Cost(repairCost, nameof(repairCost)));
    }

    /// <summary>Its name.</summary>
    public string Id { get; }

    /// <summary>Probability from 0 to 1 that it ends the trouble.</summary>
    public double Probability { get; }

    /// <summary>What it costs whether or not it ends the trouble (the observe cost).</summary>
    public double Cost { get; }

    /// <summary>What it costs on top when it ends the trouble (the repair cost). It does not depend on the order.</summary>
    public double RepairCost { get; }

    /// <summary>What must be taken off first, each counted once for all actions behind it.</summary>
    public ImmutableArray<StripDown> Behind { get; init; } = [];

    /// <summary>What it costs whether or not it helps, with all that must come off still on.</summary>
    public double FullCost => Cost + Behind.Sum(s => s.Cost);

    /// <summary>p/C: larger comes first. Infinite for an action that costs nothing.</summary>
    public double Ratio => FullCost > 0 ? Probability / FullCost : double.PositiveInfinity;

    /// <summary>The same action with another probability.</summary>
    internal RepairAction With(double probability) => new(Id, probability, Cost, RepairCost) { Behind = Behind };
}

/// <summary>Something that must come off before one or several actions, and then stays off.</summary>
public sealed record StripDown
{
    /// <summary>Makes it. Throws <see cref="ArgumentOutOfRangeException"/> for a cost that is not finite or below 0.</summary>
    /// <param name="id">Its name; actions that name the same share it.</param>
    /// <param name="cost">What taking it off costs, once.</param>
    public StripDown(string id, double cost)
    {
        ArgumentException.ThrowIfNullOrEmpty(id);
        (Id, Cost) = (id, DecisionChecks.Cost(cost, nameof(cost)));
    }

    /// <summary>Its name.</summary>
    public string Id { get; }

    /// <summary>What taking it off costs, once.</summary>
    public double Cost { get; }
}
