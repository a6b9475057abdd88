using ShopDiag.Storage.Orders;
using ShopDiag.Storage.Shop;
using ShopDiag.Web.Saving;

namespace ShopDiag.Web.Orders;

/// <summary>Saves what was typed in a field of an order whose page is no longer open.</summary>
public sealed class OrderDrafts(OrderStore orders, ShopStore shops, TimeProvider time, Tablet tablet) : IDraftHandler
{
    /// <inheritdoc/>
    public string Record => "order";

    /// <summary>The key of a field in the journal.</summary>
    public static string Key(Guid order, OrderField field) => $"order:{order}:{field}";

    /// <summary>Personal data, which the browser's storage must never hold in the clear (ASVS 5.0, 14.3.3).</summary>
    public static bool IsPersonal(OrderField field) => field is OrderField.CustomerName or OrderField.CustomerPhone or OrderField.CustomerEmail;

    /// <inheritdoc/>
    public async Task<SaveResult?> SaveAsync(StrayDraft draft, CancellationToken cancel = default)
    {
        ArgumentNullException.ThrowIfNull(draft);
        if (draft.Key.Split(':') is not [_, var id, var name] || !Guid.TryParse(id, out var order) || !Enum.TryParse<OrderField>(name, out var field))
        {
            return null;
        }

        var currency = (await shops.GetAsync(cancel) ?? new ShopSettings()).Currency;
        return await FieldCodec.Of(field, currency, time.LocalTimeZone)
            .SaveAsync(draft.Value, draft.Base, (value, before) => orders.SetFieldAsync(order, field, value, before, draft.Id, tablet.By, cancel));
    }
}
