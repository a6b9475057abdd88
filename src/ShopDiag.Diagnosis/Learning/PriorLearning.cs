using System.Collections.Immutable;
using ShopDiag.Diagnosis.Causes;

namespace ShopDiag.Diagnosis.Learning;

/// <summary>
/// Moves the causes' priors by the shop's own proven cases: step by step, the more cases the further, never to certainty. Same cases, same answer, in any order.
/// </summary>
public static class PriorLearning
{
    /// <summary>
    /// How many cases the shipped priors are worth: 30. With as many cases of its own a shop's priors stand half way. The same for what all engines say to one family.
    /// Common practice: the shipped shares are the trade's rough idea, worth about a month of a busy bench.
    /// </summary>
    public const double Strength = 30;

    /// <summary>Cases of an engine family from which on it speaks for itself: 20. Common practice: below that, chance decides more than the engine.</summary>
    public const int EnoughOfFamily = 20;

    /// <summary>The priors over all engines together.</summary>
    /// <param name="cases">The shop's cases.</param>
    /// <param name="knowledge">The causes with their shipped weights.</param>
    /// <param name="strength">Cases that the shipped priors are worth, above 0.</param>
    /// <exception cref="ArgumentOutOfRangeException">A number of cases is below 0, or the strength is not above 0.</exception>
    public static LearnedPriors Overall(IEnumerable<CaseCount> cases, Knowledge knowledge, double strength = Strength) => Make(null, cases, knowledge, strength);

    /// <summary>
    /// The priors for an engine family. With <see cref="EnoughOfFamily"/> cases of its own, what the cases of the other engines say is the prior of the family and its own
    /// cases are added (each case counts once); with fewer, all cases together decide.
    /// </summary>
    /// <param name="family">The engines.</param>
    /// <param name="cases">The shop's cases on all engines.</param>
    /// <param name="knowledge">The causes with their shipped weights.</param>
    /// <param name="strength">Cases that the shipped priors are worth, and that what the other engines say is worth to the family; above 0.</param>
    /// <exception cref="ArgumentOutOfRangeException">A number of cases is below 0, or the strength is not above 0.</exception>
    public static LearnedPriors For(EngineFamily family, IEnumerable<CaseCount> cases, Knowledge knowledge, double strength = Strength)
    {
        ArgumentNullException.ThrowIfNull(family);
        return Make(family, cases, knowledge, strength);
    }

    /// <summary>
    /// The cases that count, one line for each cause and family in order of family and cause: not those of a cause that the knowledge does not have or cannot prove on such an engine.
    /// </summary>
    /// <exception cref="ArgumentOutOfRangeException">A number of cases is below 0.</exception>
    public static ImmutableArray<CaseCount> Counted(IEnumerable<CaseCount> cases, Knowledge knowledge)
    {
        ArgumentNullException.ThrowIfNull(cases);
        ArgumentNullException.ThrowIfNull(knowledge);
        Cause[] causes = [.. knowledge.Causes];
        return [.. CaseGroup.Of(cases, causes).SelectMany(g => causes.Select((c, i) => new CaseCount(c.Id, g.Family, g.Counts[i]))).Where(c => c.Cases > 0)];
    }

    private static LearnedPriors Make(EngineFamily? family, IEnumerable<CaseCount> cases, Knowledge knowledge, double strength)
    {
        if (!(strength > 0 && double.IsFinite(strength)))
        {
            throw new ArgumentOutOfRangeException(nameof(strength), strength, "The shipped priors must be worth some cases: a finite number above 0.");
        }

        ArgumentNullException.ThrowIfNull(cases);
        ArgumentNullException.ThrowIfNull(knowledge);
        Cause[] causes = [.. knowledge.Causes];
        var groups = CaseGroup.Of(cases, causes);
        var own = groups.Where(g => family is null || g.Family == family).ToArray();
        var byFamily = family is not null && own.Sum(g => g.Total) >= EnoughOfFamily;
        var weight = causes.Sum(c => c.Weight);
        var shipped = Array.ConvertAll(causes, c => c.Weight / weight);
        var learned = byFamily
            ? DirichletShares.Learn(DirichletShares.Learn(shipped, strength, [.. groups.Except(own)]), strength, own)
            : DirichletShares.Learn(shipped, strength, groups);
        return new LearnedPriors
        {
            Family = family,
            ByFamily = byFamily,
            Cases = own.Sum(g => g.Total),
            AllCases = groups.Sum(g => g.Total),
            Causes = Shown(family, causes, shipped, learned, own),
            Weights = causes.Select((c, i) => KeyValuePair.Create(c.Id, learned[i] * weight)).ToImmutableDictionary(StringComparer.Ordinal),
        };
    }

    /// <summary>The shares among the causes that the engine can have.</summary>
    private static ImmutableArray<LearnedCause> Shown(EngineFamily? family, Cause[] causes, double[] shipped, double[] learned, CaseGroup[] own)
    {
        var there = Enumerable.Range(0, causes.Length).Where(i => family is null || causes[i].Suits(family.Ignition, family.Injection)).ToArray();
        var (shippedThere, learnedThere) = (there.Sum(i => shipped[i]), there.Sum(i => learned[i]));
        return [.. there.Select(i => new LearnedCause(causes[i].Id, shipped[i] / shippedThere, learned[i] / learnedThere, own.Sum(g => g.Counts[i])))];
    }
}
