using System.Collections.Immutable;

namespace ShopDiag.Diagnosis.Evidence;

/// <summary>What an earlier repair does to the priors when the trouble is back: loaded from <c>Evidence/after-repair.json</c>. In texts <c>{order}</c> and <c>{part}</c> stand for the order and the part.</summary>
public sealed record AfterRepair
{
    /// <summary>Nothing known: an earlier repair changes nothing.</summary>
    public static AfterRepair None { get; } = new() { NewPart = new("", 1, "-"), Mended = new("", 1, "-"), Source = "-" };

    /// <summary>For a cause whose main part was newly fitted at its place, unless a rule names it.</summary>
    public required AfterRepairCause NewPart { get; init; }

    /// <summary>For a cause that was repaired at its place without such a part, or that the repair mended too.</summary>
    public required AfterRepairCause Mended { get; init; }

    /// <summary>Where the two come from.</summary>
    public required string Source { get; init; }

    /// <summary>What fitting a part can leave behind.</summary>
    public ImmutableArray<AfterRepairRule> Rules { get; init; } = [];

    /// <summary>The rule for a part, or null.</summary>
    public AfterRepairRule? For(string part) => Rules.FirstOrDefault(r => r.Fitted.Contains(part));
}

/// <summary>What fitting one of some parts does to causes at the same place.</summary>
/// <param name="Fitted">The parts as repairs name them.</param>
/// <param name="Look">What to look at first when the trouble is back, in plain words.</param>
/// <param name="Causes">What it does.</param>
/// <param name="Source">Where the rule comes from.</param>
public sealed record AfterRepairRule(ImmutableArray<string> Fitted, string Look, ImmutableArray<AfterRepairCause> Causes, string Source);

/// <summary>One cause after a repair.</summary>
/// <param name="Cause">Its id; empty where it goes for any.</param>
/// <param name="Times">How many times as likely as before, against the other causes; above 0, at most 20.</param>
/// <param name="Because">Why, in plain words.</param>
public sealed record AfterRepairCause(string Cause, double Times, string Because);
