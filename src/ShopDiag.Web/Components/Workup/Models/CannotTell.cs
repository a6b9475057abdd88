using System.Collections.Immutable;
using ShopDiag.Diagnosis.Workups;

namespace ShopDiag.Web.Components.WorkupViews;

/// <summary>Why the cells of a row cannot tell, in as few words as will do: the numbers stand in the cells, the whole reason in their entry.</summary>
public static class CannotTell
{
    /// <summary>
    /// Each reason once, with its places unless all <paramref name="cells"/> share it. Where reasons differ only in their numbers, what they have in
    /// common is said: what to do about it.
    /// </summary>
    public static ImmutableArray<string> Remarks(IEnumerable<Finding> findings, int cells)
    {
        var untold = findings.Where(f => f.Outcome is null).ToImmutableArray();
        var reasons = untold.GroupBy(f => f.Because).ToImmutableArray();
        if (reasons.Length > 1 && Common(reasons.Select(r => r.Key)) is { Length: > 0 } common)
        {
            return [With(untold, common, cells)];
        }

        return [.. reasons.Select(r => With([.. r], r.Key, cells))];
    }

    private static string With(ImmutableArray<Finding> findings, string reason, int cells) => findings.Length == cells
        ? reason
        : $"{string.Join(", ", findings.Select((f, i) => i == 0 ? PlaceWords.Title(f.At) : f.At.ToString()))}: {reason}";

    private static string Common(IEnumerable<string> reasons)
    {
        var sentences = reasons.Select(Sentences).ToArray();
        return string.Join(" ", sentences[0].Where(s => sentences.All(o => o.Contains(s))));
    }

    private static string[] Sentences(string text) => text.Replace(". ", ".\n", StringComparison.Ordinal).Split('\n');
}
