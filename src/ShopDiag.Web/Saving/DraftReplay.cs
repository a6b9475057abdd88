using ShopDiag.Storage.Orders;

namespace ShopDiag.Web.Saving;

/// <summary>An entry of a self-saving field whose page is not open.</summary>
/// <param name="Key">Key in the journal: <c>record:id:field</c>.</param>
/// <param name="Value">The text.</param>
/// <param name="Base">What the database had when typing began.</param>
/// <param name="Id">Command id.</param>
/// <param name="Sequence">Running number.</param>
public sealed record StrayDraft(string Key, string Value, string? Base, Guid Id, long Sequence);

/// <summary>Saves entries of one kind of record without their page. Registered in the services.</summary>
public interface IDraftHandler
{
    /// <summary>The first part of the keys, such as <c>order</c>.</summary>
    string Record { get; }

    /// <summary>Saves the entry, or answers null for a key that is not known.</summary>
    Task<SaveResult?> SaveAsync(StrayDraft draft, CancellationToken cancel = default);
}

/// <summary>
/// Saves what was typed on a page that is no longer open. What is refused or in conflict stays in the journal until the
/// page is opened again, where the field says so beside the text.
/// </summary>
public sealed class DraftReplay(IEnumerable<IDraftHandler> handlers)
{
    private readonly Dictionary<string, IDraftHandler> _handlers = handlers.ToDictionary(h => h.Record, StringComparer.Ordinal);

    /// <summary>Saves what can be saved and answers the keys that are dealt with.</summary>
    public async Task<IReadOnlyList<string>> SaveAsync(IEnumerable<StrayDraft> drafts)
    {
        ArgumentNullException.ThrowIfNull(drafts);
        var done = new List<string>();
        foreach (var draft in drafts)
        {
            if (_handlers.TryGetValue(draft.Key.Split(':')[0], out var handler)
                && await handler.SaveAsync(draft) is { Outcome: SaveOutcome.Saved or SaveOutcome.AlreadySaved })
            {
                done.Add(draft.Key);
            }
        }

        return done;
    }
}
