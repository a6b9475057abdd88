namespace ShopDiag.Storage.Orders;

/// <summary>Answers that several commands give.</summary>
internal static class Answers
{
    /// <summary>The order is unknown.</summary>
    public static SaveResult NoSuchOrder { get; } =
        new(SaveOutcome.Refused, "", "There is no such order in this shop's records. Nothing was saved.");
}
