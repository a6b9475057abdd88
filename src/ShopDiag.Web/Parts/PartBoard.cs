using System.Collections.Immutable;
using System.Globalization;
using ShopDiag.Estimates;
using ShopDiag.Storage.Estimates;

namespace ShopDiag.Web.Parts;

/// <summary>Parts under one head.</summary>
/// <param name="Key">The vendor, or the number of the order.</param>
/// <param name="Parts">The parts.</param>
public sealed record PartGroup(string Key, ImmutableArray<AwaitedPart> Parts);

/// <summary>
/// Which parts a page shows, and where. A part stays where it was first shown until the page is sorted again: a row that moves away while somebody
/// touches it, or types its vendor, would take the touch or the text with it.
/// </summary>
public sealed class PartBoard
{
    private readonly Dictionary<Guid, Place> _places = [];
    private readonly Dictionary<Guid, int> _lines = [];
    private int _seen;

    /// <summary>What has to come, by group.</summary>
    public ImmutableArray<PartGroup> Missing { get; private set; } = [];

    /// <summary>What lies ready, by group.</summary>
    public ImmutableArray<PartGroup> Ready { get; private set; } = [];

    /// <summary>Parts that would stand elsewhere, or nowhere, if the page were sorted now.</summary>
    public int Moved { get; private set; }

    /// <summary>The parts shown so far.</summary>
    public IReadOnlyCollection<Guid> Known => _places.Keys;

    /// <summary>Forgets where the parts stand.</summary>
    public void Sort() => _places.Clear();

    /// <summary>Shows these parts: those known at their place, new ones where they belong now.</summary>
    public void Show(IEnumerable<AwaitedPart> parts, bool byOrder)
    {
        ArgumentNullException.ThrowIfNull(parts);
        var shown = new List<(AwaitedPart Part, Place Place)>();
        Moved = 0;
        foreach (var part in parts.DistinctBy(p => p.Part.Id).OrderBy(p => p.PromisedAt ?? DateTime.MaxValue).ThenBy(p => p.OrderNumber))
        {
            var natural = Natural(part, byOrder);
            if (_places.TryGetValue(part.Part.Id, out var place))
            {
                Moved += natural is null || (natural.Ready, Folded(natural.Group)) != (place.Ready, Folded(place.Group)) ? 1 : 0;
            }
            else if (natural is not null)
            {
                place = _places[part.Part.Id] = natural;
            }

            if (place is not null)
            {
                shown.Add((part, place));
            }
        }

        Missing = Groups(shown.Where(s => !s.Place.Ready), byOrder);
        Ready = Groups(shown.Where(s => s.Place.Ready), byOrder);
    }

    private static string Folded(string group) => group.ToUpperInvariant();

    private Place? Natural(AwaitedPart part, bool byOrder)
    {
        var group = byOrder ? part.OrderNumber.ToString(CultureInfo.InvariantCulture) : part.Part.Vendor;
        var line = _lines.TryGetValue(part.Part.LineId, out var known) ? known : _lines[part.Part.LineId] = _seen;
        return part.Part.State switch
        {
            PartState.Wanted or PartState.Ordered => new(false, group, line, _seen++),
            PartState.Received => new(true, group, line, _seen++),
            PartState.Fitted or PartState.Returned => null,
            _ => throw new InvalidOperationException($"Unknown state {part.Part.State}."),
        };
    }

    // By vendor: those that nobody sells yet first, they need a person. By order: as promised.
    private static ImmutableArray<PartGroup> Groups(IEnumerable<(AwaitedPart Part, Place Place)> shown, bool byOrder)
    {
        var groups = shown.GroupBy(s => Folded(s.Place.Group))
            .Select(g => new PartGroup(g.First().Place.Group, [.. g.OrderBy(s => s.Part.PromisedAt ?? DateTime.MaxValue).ThenBy(s => s.Part.OrderNumber).ThenBy(s => s.Place.Line).ThenBy(s => s.Place.Seen).Select(s => s.Part)]));
        return [.. byOrder ? groups : groups.OrderBy(g => g.Key, StringComparer.OrdinalIgnoreCase)];
    }

    private sealed record Place(bool Ready, string Group, int Line, int Seen);
}
