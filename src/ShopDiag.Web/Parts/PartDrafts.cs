using ShopDiag.Storage.Estimates;
using ShopDiag.Storage.Orders;
using ShopDiag.Web.Saving;

namespace ShopDiag.Web.Parts;

/// <summary>Saves what was typed in a field of a part whose page is no longer open.</summary>
public sealed class PartDrafts(PartStore parts, Tablet tablet) : IDraftHandler
{
    /// <inheritdoc/>
    public string Record => "part";

    /// <summary>The key of a field in the journal.</summary>
    public static string Key(Guid part, PartField field) => $"part:{part}:{field}";

    /// <inheritdoc/>
    public async Task<SaveResult?> SaveAsync(StrayDraft draft, CancellationToken cancel = default)
    {
        ArgumentNullException.ThrowIfNull(draft);
        return draft.Key.Split(':') is [_, var id, var name] && Guid.TryParse(id, out var part) && Enum.TryParse<PartField>(name, out var field)
            ? await parts.SetFieldAsync(part, field, draft.Value, draft.Base, draft.Id, tablet.By, cancel)
            : null;
    }
}
