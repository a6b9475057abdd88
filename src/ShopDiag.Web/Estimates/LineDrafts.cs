using ShopDiag.Estimates;
using ShopDiag.Storage.Estimates;
using ShopDiag.Storage.Orders;
using ShopDiag.Web.Saving;

namespace ShopDiag.Web.Estimates;

/// <summary>Saves what was typed in a field of an estimate's line whose page is no longer open.</summary>
public sealed class LineDrafts(EstimateStore estimates, Tablet tablet) : IDraftHandler
{
    /// <inheritdoc/>
    public string Record => "line";

    /// <summary>The key of a field in the journal.</summary>
    public static string Key(Guid order, Guid line, LineField field) => $"line:{order}:{line}:{field}";

    /// <inheritdoc/>
    public async Task<SaveResult?> SaveAsync(StrayDraft draft, CancellationToken cancel = default)
    {
        ArgumentNullException.ThrowIfNull(draft);
        return draft.Key.Split(':') is [_, var orderId, var lineId, var name] && Guid.TryParse(orderId, out var order) && Guid.TryParse(lineId, out var line) && Enum.TryParse<LineField>(name, out var field)
            ? await estimates.SetLineAsync(order, line, field, draft.Value, draft.Base, draft.Id, tablet.By, cancel)
            : null;
    }
}
