using ShopDiag.Diagnosis.Workups;

namespace ShopDiag.Storage.Orders;

/// <summary>A test that cannot be taken on the order's car, as kept: never changed, at most ended. No reading, and no evidence.</summary>
public sealed record StoredObstacle
{
    /// <summary>Longest <see cref="Obstacle.Why"/>, letters.</summary>
    public const int LongestWhy = 200;

    /// <summary>Made by the client before the first try to save, so that a repeated save is harmless.</summary>
    public required Guid Id { get; init; }

    /// <summary>The test, where, and why.</summary>
    public required Obstacle Obstacle { get; init; }

    /// <summary>Who said so.</summary>
    public required string By { get; init; }

    /// <summary>When, UTC.</summary>
    public required DateTime SaidAt { get; init; }

    /// <summary>Who said or showed that it can be taken after all; null while it stands.</summary>
    public string? EndedBy { get; init; }

    /// <summary>When, UTC; null while it stands.</summary>
    public DateTime? EndedAt { get; init; }

    /// <summary>True until it is ended.</summary>
    public bool Stands => EndedAt is null;
}

/// <summary>What is to be said of a test that cannot be taken.</summary>
/// <param name="Id">Made by the client.</param>
/// <param name="Obstacle">The test, where, and why.</param>
/// <param name="By">Who says so, where nobody is signed in.</param>
public sealed record NewObstacle(Guid Id, Obstacle Obstacle, string By);
