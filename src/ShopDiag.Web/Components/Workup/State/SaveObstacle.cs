using System.Text.Json;
using ShopDiag.Diagnosis.Workups;
using ShopDiag.Storage.Orders;

namespace ShopDiag.Web.Components.WorkupViews;

/// <summary>That a test cannot be taken, on its way to the database, as the tablet's journal keeps it until it is there.</summary>
/// <param name="Order">The order.</param>
/// <param name="Test">The test's id.</param>
/// <param name="At">The place (<see cref="PlaceWords.Key"/>).</param>
/// <param name="Why">Why, or empty.</param>
/// <param name="By">Who says so.</param>
public sealed record SaveObstacle(Guid Order, string Test, string At, string Why, string By)
{
    /// <summary>The kind of command in the journal.</summary>
    public const string Kind = "obstacle";

    /// <summary>What it says. Throws <see cref="JsonException"/> when its place is none.</summary>
    public NewObstacle ToObstacle(Guid id) => new(id, new Obstacle(Test, PlaceWords.Read(At) ?? throw new JsonException($"'{At}' is no place.")) { Why = Why }, By);
}

/// <summary>That a test can be taken after all, likewise.</summary>
/// <param name="Order">The order.</param>
/// <param name="Obstacle">What no longer holds.</param>
/// <param name="By">Who says so.</param>
public sealed record EndObstacle(Guid Order, Guid Obstacle, string By)
{
    /// <summary>The kind of command in the journal.</summary>
    public const string Kind = "obstacle-end";
}
