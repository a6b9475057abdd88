namespace ShopDiag.Storage.Orders;

/// <summary>Stages put together.</summary>
internal static class OrderStages
{
    /// <summary>Those of a car that is in the building. Asked for by name and not as "all but one", which no index answers.</summary>
    public static readonly OrderStage[] Open = [.. Enum.GetValues<OrderStage>().Where(s => s != OrderStage.HandedOver)];
}
