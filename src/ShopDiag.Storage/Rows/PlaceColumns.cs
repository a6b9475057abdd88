using ShopDiag.Diagnosis;

namespace ShopDiag.Storage.Rows;

/// <summary>A place as the three columns <c>PlaceKind</c>, <c>PlaceFirst</c> and <c>PlaceSecond</c>.</summary>
internal static class PlaceColumns
{
    /// <summary>What the database accepts in them.</summary>
    public const string Check =
        "(PlaceKind = 'Engine' AND PlaceFirst = 0 AND PlaceSecond = 0)"
        + " OR (PlaceKind IN ('Bank', 'Cylinder') AND PlaceFirst >= 1 AND PlaceSecond = 0)"
        + " OR (PlaceKind = 'Pair' AND PlaceFirst >= 1 AND PlaceSecond > PlaceFirst)";

    public static Place Read(PlaceKind kind, int first, int second) => kind switch
    {
        PlaceKind.Engine => Place.Engine,
        PlaceKind.Bank => Place.Bank(first),
        PlaceKind.Pair => Place.Pair(first, second),
        PlaceKind.Cylinder => Place.Cylinder(first),
        _ => throw new InvalidOperationException($"Unknown kind of place {kind}."),
    };
}
