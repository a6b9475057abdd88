namespace ShopDiag.Storage.Orders;

/// <summary>Stages put together.</summary>
public static class OrderStages
{
    /// <summary>Those of a car that is in the building. Asked for by name and not as "all but some", which no index answers.</summary>
    internal static readonly OrderStage[] Open = [.. Enum.GetValues<OrderStage>().Where(IsOpen)];

    /// <summary>True while the car is in the building.</summary>
    public static bool IsOpen(this OrderStage stage) => stage is not (OrderStage.HandedOver or OrderStage.MadeByMistake);

    /// <summary>True when the work has come as far as a stage; never of an order made by mistake, on which no work was done.</summary>
    public static bool HasReached(this OrderStage stage, OrderStage other) => stage != OrderStage.MadeByMistake && stage >= other;
}
