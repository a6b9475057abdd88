using System.Collections.Immutable;
using ShopDiag.Diagnosis.BenchTests;
using ShopDiag.Diagnosis.Causes;

namespace ShopDiag.Diagnosis.Evidence;

/// <summary>
/// A group of aspects that see the same physical thing at one place, such as compression and leak-down, and how far they go together.
/// </summary>
/// <remarks>
/// Readings of a group are not independent. A leak that one gauge shows the other shows too, and one that is small today hides from both. So a hidden yes-or-no
/// stands between: on a sound cylinder, whether something odd but harmless is there; with a fault, whether the fault shows itself in this group at all. Given that,
/// the readings are independent. Each single reading keeps exactly the distribution of its rule. The share of the hidden state is the largest that the
/// rules of the group allow, times <see cref="Dependence"/> or <see cref="Hiding"/>.
/// </remarks>
internal sealed class GroupModel
{
    /// <summary>How far readings of one group go together, from 0 (independent) to 1 (as far as their rules allow). Common practice; no published figure.</summary>
    public const double Dependence = 0.8;

    /// <summary>The same for a fault that hides: a part that is bad only at times may still be caught by one of two tests. Common practice; no published figure.</summary>
    public const double Hiding = 0.5;

    private readonly double _odd;

    public GroupModel(string id, ImmutableArray<(BenchTest Test, Aspect Aspect)> members, ImmutableArray<Lapses> lapses)
    {
        (Id, Members, Lapses) = (id, members, lapses);
        Healthy = [.. members.Select((m, i) => lapses[i].Without([.. m.Aspect.Outcomes.Select(o => o.Healthy)]))];
        var bad = members.Select((m, i) => m.Aspect.Outcomes.Select((o, n) => o.Good ? 0 : Healthy[i][n]).Sum()).ToArray();
        var joined = members.Select(m => m.Aspect.Outcomes.Any(o => o.Good) && m.Aspect.Outcomes.Any(o => !o.Good)).ToArray();
        _odd = joined.Count(j => j) < 2 ? 0 : Dependence * bad.Where((_, i) => joined[i]).Min();
        Clean = [.. members.Select((m, i) => joined[i] ? Split(m.Aspect, Healthy[i], bad[i], odd: false) : Healthy[i])];
        Odd = [.. members.Select((m, i) => joined[i] ? Split(m.Aspect, Healthy[i], bad[i], odd: true) : Healthy[i])];
    }

    /// <summary>The group's name; the aspect's id where it stands alone.</summary>
    public string Id { get; }

    /// <summary>The aspects.</summary>
    public ImmutableArray<(BenchTest Test, Aspect Aspect)> Members { get; }

    /// <summary>What a sound place truly is, for each member, before any slip of the reader.</summary>
    public ImmutableArray<double[]> Healthy { get; }

    /// <summary>For each member how a look goes wrong by itself.</summary>
    public ImmutableArray<Lapses> Lapses { get; }

    /// <summary>How many speakers there are.</summary>
    public int Speakers { get; private set; }

    private ImmutableArray<double[]> Clean { get; }

    private ImmutableArray<double[]> Odd { get; }

    // The members' share of sound places with something odd takes bad outcomes only; the rest keeps what is left, so that both together give Healthy.
    private double[] Split(Aspect aspect, double[] healthy, double bad, bool odd) =>
    [
        .. aspect.Outcomes.Select((o, i) => (odd, o.Good) switch
        {
            (true, true) => 0,
            (true, false) => healthy[i] / bad,
            (false, true) => healthy[i] / (1 - _odd),
            (false, false) => healthy[i] * (1 - (_odd / bad)) / (1 - _odd),
        }),
    ];

    /// <summary>What a cause shows here, from the rules that speak of this group's aspects.</summary>
    /// <param name="rules">The rules.</param>
    /// <param name="cause">The cause they are of.</param>
    /// <param name="at">The kind of place.</param>
    public Speaker NewSpeaker(IReadOnlyCollection<EvidenceRule> rules, Cause cause, PlaceKind at)
    {
        var byMember = Members.Select(m => rules.FirstOrDefault(r => r.Aspect == m.Aspect.Id)).ToArray();
        var shown = Members.Select((m, i) => byMember[i] is { } rule ? Lapses[i].Without([.. m.Aspect.Outcomes.Select(o => rule.Shows.GetValueOrDefault(o.Id))]) : null).ToArray();
        var slight = at == PlaceKind.Cylinder ? byMember.OfType<EvidenceRule>().Select(r => r.Slight ?? cause.Slight).DefaultIfEmpty().Max() : 0;
        var states = shown.Select((s, i) => s is null ? (s, s) : slight > 0 ? Strength.Split(Members[i].Aspect, s, Healthy[i], slight) : StatesOf(i, s, cause.Sleeps)).ToArray();
        if (Array.TrueForAll(states, s => s.Item1 == s.Item2))
        {
            return NewSpeaker(byMember, shown);
        }

        var less = NewSpeaker(byMember, [.. states.Select(s => s.Item2)]);
        return NewSpeaker(byMember, [.. states.Select(s => s.Item1)], less, slight);
    }

    private (double[]? Awake, double[]? Asleep) StatesOf(int member, double[] shown, double sleeps) =>
        sleeps > 0 && Members[member].Aspect.Live ? Sleep.Split(shown, Healthy[member], sleeps) : (shown, shown);

    private Speaker NewSpeaker(EvidenceRule?[] byMember, double[]?[] shown, Speaker? less = null, double slight = 0)
    {
        var hides = shown.Count(s => s is not null) < 2 ? 0 : Hiding * Shared(shown);
        return new Speaker(
            Speakers++,
            1 - hides,
            [.. shown.Select((s, i) => s?.Select((p, o) => Math.Max(0, (p - (hides * Healthy[i][o])) / (1 - hides))).ToArray())],
            byMember,
            less,
            slight);
    }

    // The largest share of "as on a sound engine" that every rule of the group leaves room for.
    private double Shared(double[]?[] shown) => Math.Min(0.95, shown
        .SelectMany((s, i) => s is null ? [] : s.Select((p, o) => p / Healthy[i][o]))
        .Min());

    /// <summary>
    /// Probability of what was seen when no, one or two faults speak here.
    /// </summary>
    /// <param name="seen">For each member the likelihood of its true outcomes given what was read; null where nothing was.</param>
    /// <param name="one">The first fault, or null.</param>
    /// <param name="other">The second, or null.</param>
    public double Joint(double[]?[] seen, Speaker? one, Speaker? other)
    {
        var sound = Shown(seen, null, null);
        return one is null || other is null
            ? (one ?? other) is { } alone ? Mixed(alone, sound, Shown(seen, alone, null)) : sound
            : Mixed(one, other, sound, Shown(seen, one, null), Shown(seen, other, null), Shown(seen, one, other));
    }

    /// <summary>The probability under one fault, from those with it hidden and with it showing.</summary>
    public static double Mixed(Speaker one, double sound, double shown) => ((1 - one.Shows) * sound) + (one.Shows * shown);

    /// <summary>The probability under two faults, from those with none, the first, the second and both showing.</summary>
    public static double Mixed(Speaker one, Speaker other, double sound, double first, double second, double both) =>
        ((1 - one.Shows) * (1 - other.Shows) * sound)
        + (one.Shows * (1 - other.Shows) * first)
        + ((1 - one.Shows) * other.Shows * second)
        + (one.Shows * other.Shows * both);

    /// <summary>
    /// Probability of what was seen when the given faults show themselves (null: none there). What no rule speaks of is as on a sound place, its aspects
    /// still going together.
    /// </summary>
    public double Shown(double[]?[] seen, Speaker? one, Speaker? other)
    {
        var (faults, clean, odd) = (1.0, 1 - _odd, _odd);
        for (var i = 0; i < seen.Length; i++)
        {
            if (seen[i] is not { } likelihood)
            {
                continue;
            }

            var (a, b) = (one?.Distributions[i], other?.Distributions[i]);
            if (a is null && b is null)
            {
                clean *= Dot(Clean[i], likelihood);
                odd *= Dot(Odd[i], likelihood);
            }
            else
            {
                faults *= a is null || b is null ? Dot((a ?? b)!, likelihood) : Pooled(a, b, Healthy[i], likelihood);
            }
        }

        return faults * (clean + odd);
    }

    // Two faults that speak of one reading: a(o)*b(o)/healthy(o), scaled to add up to 1. Symmetric, and a fault that shows nothing there
    // leaves the other's distribution as it is.
    private static double Pooled(double[] one, double[] other, double[] healthy, double[] likelihood)
    {
        var (total, seen) = (0.0, 0.0);
        for (var o = 0; o < healthy.Length; o++)
        {
            var pooled = one[o] * other[o] / healthy[o];
            total += pooled;
            seen += pooled * likelihood[o];
        }

        // Two faults that agree on nothing leave no outcome at all: then nothing is said.
        return total > 0 ? seen / total : Dot(healthy, likelihood);
    }

    private static double Dot(double[] distribution, double[] likelihood)
    {
        var sum = 0.0;
        for (var o = 0; o < distribution.Length; o++)
        {
            sum += distribution[o] * likelihood[o];
        }

        return sum;
    }
}

/// <summary>What one cause makes a group of aspects show at places in one relation to it. Equal only to itself: it is made once.</summary>
internal sealed class Speaker(int number, double shows, double[]?[] distributions, EvidenceRule?[] rules, Speaker? less, double slight)
{
    /// <summary>What the cause makes the group show while it sleeps, or where it is slight; itself where that makes no difference.</summary>
    public Speaker Less => less ?? this;

    /// <summary>True where it makes a difference whether the cause sleeps.</summary>
    public bool Sleeps => less is not null && slight == 0;

    /// <summary>True where it makes a difference whether the cause is strong or slight on all cylinders it bears on.</summary>
    public bool Varies => less is not null && slight > 0;

    /// <summary>Probability that the cause is slight here on all cylinders it bears on; 0 where it does not vary.</summary>
    public double Slight => Varies ? slight : 0;

    /// <summary>True when everything is as on a sound engine.</summary>
    public bool IsSilent { get; } = Array.TrueForAll(distributions, d => d is null);

    /// <summary>Its number among the speakers of its group, from 0.</summary>
    public int Number => number;

    /// <summary>Probability that the fault shows itself in this group at all.</summary>
    public double Shows => shows;

    /// <summary>For each member the distribution of the true outcome when it does; null where no rule speaks.</summary>
    public double[]?[] Distributions => distributions;

    /// <summary>For each member the rule, or null.</summary>
    public EvidenceRule?[] Rules => rules;
}
