using System.Collections.Immutable;

namespace ShopDiag.Diagnosis.Workups;

/// <summary>
/// What was done on an earlier order of which this one is a comeback, as a person has said. What was fitted there is less likely to be at fault now; what a fitting can leave behind
/// (a connector not home, a wire pinched) is more so. How much stands in <c>Evidence/after-repair.json</c>.
/// </summary>
/// <param name="Order">Which order, as it is named in a sentence: <c>order 1002</c>.</param>
/// <param name="Causes">What was repaired.</param>
/// <param name="Parts">What was fitted, with position.</param>
public sealed record EarlierRepair(string Order, ImmutableArray<ProvenCause> Causes, ImmutableArray<RepairPart> Parts);

/// <summary>What an earlier repair does to one cause before anything is read.</summary>
/// <param name="Order">Which order, as it is named in a sentence.</param>
/// <param name="Bits">log2 of how many times as likely it makes the cause against the others: below 0 for what is new there.</param>
/// <param name="Because">Why, in plain words.</param>
public sealed record EarlierEffect(string Order, double Bits, string Because);
