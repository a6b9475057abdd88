using ShopDiag.Diagnosis.Causes;

namespace ShopDiag.Diagnosis.Learning;

/// <summary>The cases of one engine family, by index of the cause.</summary>
/// <param name="Family">The engines.</param>
/// <param name="Could">Which causes can be proven on them: only of these does a case say that they were not it.</param>
/// <param name="Counts">Cases of each cause.</param>
internal sealed record CaseGroup(EngineFamily Family, bool[] Could, int[] Counts)
{
    /// <summary>Cases in all.</summary>
    public int Total { get; } = Counts.Sum();

    /// <summary>The groups in order of family, whatever the order of the cases. Cases that cannot be are left out.</summary>
    public static CaseGroup[] Of(IEnumerable<CaseCount> cases, Cause[] causes) =>
    [
        .. cases.GroupBy(c => c.Family)
            .OrderBy(g => g.Key.Id, StringComparer.Ordinal)
            .Select(g => Of(g.Key, g, causes))
            .Where(g => g.Total > 0),
    ];

    private static CaseGroup Of(EngineFamily family, IEnumerable<CaseCount> cases, Cause[] causes)
    {
        var could = Array.ConvertAll(causes, c => CanBeProven(c, family));
        var counts = new int[causes.Length];
        foreach (var one in cases)
        {
            ArgumentOutOfRangeException.ThrowIfNegative(one.Cases, nameof(cases));
            var index = Array.FindIndex(causes, c => c.Id == one.Cause);
            if (index >= 0 && could[index])
            {
                counts[index] = checked(counts[index] + one.Cases);
            }
        }

        return new CaseGroup(family, could, counts);
    }

    private static bool CanBeProven(Cause cause, EngineFamily family) =>
        !cause.Unlisted && cause.Suits(family.Ignition, family.Injection)
        && cause.Proof.Any(p => p.OnlyIgnition.IsEmpty || p.OnlyIgnition.Contains(family.Ignition));
}
