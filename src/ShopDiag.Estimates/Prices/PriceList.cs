using System.Collections.Immutable;

namespace ShopDiag.Estimates;

/// <summary>The shop's list, to look things up in.</summary>
/// <param name="entries">All entries.</param>
public sealed class PriceList(IEnumerable<PriceEntry> entries)
{
    private readonly ImmutableArray<PriceEntry> _entries = [.. entries];

    /// <summary>A list with nothing in it.</summary>
    public static PriceList Empty { get; } = new([]);

    /// <summary>All entries: by kind, name, what they are for.</summary>
    public ImmutableArray<PriceEntry> Entries => [.. _entries.OrderBy(e => e.Kind).ThenBy(e => e.Name, StringComparer.OrdinalIgnoreCase).ThenBy(e => e.For, StringComparer.OrdinalIgnoreCase)];

    /// <summary>Fees that go on every order.</summary>
    public IEnumerable<PriceEntry> OnEveryOrder => Entries.Where(e => e is { Kind: LineKind.Fee, EveryOrder: true });

    /// <summary>
    /// The entry for a name on a car: one whose <see cref="PriceEntry.For"/> words all stand in <paramref name="car"/> goes before one for any car, the
    /// more words the sooner. Null when there is none.
    /// </summary>
    public PriceEntry? Find(LineKind kind, string name, string car)
    {
        var (wanted, words) = (Folded(name), Folded(car).Split(' ').ToHashSet(StringComparer.Ordinal));
        return _entries.Where(e => e.Kind == kind && Folded(e.Name) == wanted)
            .Select(e => (Entry: e, For: Folded(e.For).Split(' ', StringSplitOptions.RemoveEmptyEntries)))
            .Where(e => e.For.All(words.Contains))
            .OrderByDescending(e => e.For.Length).ThenBy(e => e.Entry.Key, StringComparer.Ordinal)
            .Select(e => e.Entry).FirstOrDefault();
    }

    /// <summary>Lower case, single spaces.</summary>
    internal static string Folded(string text) => string.Join(' ', text.ToLowerInvariant().Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries));
}
