using CsCheck;
using ShopDiag.Diagnosis.Decisions;

namespace ShopDiag.Diagnosis.Tests.Decisions;

/// <summary>Actions for the tests, and all of their orders.</summary>
internal static class Actions
{
    /// <summary>Up to so many actions whose probabilities add up to at most 1, with costs of looking and of repair.</summary>
    public static Gen<RepairAction[]> Any(int most) =>
        from n in Gen.Int[1, most]
        from shares in Gen.Double[0.01, 1].Array[n]
        from listed in Gen.Double[0.3, 1]
        from costs in Gen.Double[0.5, 100].Array[n]
        from repairs in Gen.Double[0, 50].Array[n]
        select shares.Select((s, i) => new RepairAction($"a{i}", s / shares.Sum() * listed, costs[i], repairs[i])).ToArray();

    /// <summary>A reading with up to three outcomes on the causes of n actions, and on none of them.</summary>
    public static Gen<Observation> Reading(int n, double cost) =>
        from outcomes in Gen.Int[2, 3]
        from weights in Gen.Double[0.01, 1].Array[outcomes].Array[n + 1]
        let shares = weights.Select(w => w.Select(x => x / w.Sum()).ToArray()).ToArray()
        select new Observation(cost, [.. Enumerable.Range(0, outcomes).Select(k => new ObservedOutcome([.. shares.Take(n).Select(s => s[k])], shares[n][k]))]);

    /// <summary>Every order: n! of them.</summary>
    public static IEnumerable<RepairAction[]> Orders(IReadOnlyList<RepairAction> actions) => actions.Count <= 1
        ? [[.. actions]]
        : actions.SelectMany((first, i) => Orders([.. actions.Take(i), .. actions.Skip(i + 1)]).Select(rest => (RepairAction[])[first, .. rest]));
}
