using System.Collections.Immutable;

namespace ShopDiag.Storage.Backups;

/// <summary>A backup that is kept in the backup folder.</summary>
public sealed record BackupInfo
{
    /// <summary>Name of its folder, such as <c>20260302T020000Z-nightly</c>; what a restore is asked for by.</summary>
    public required string Name { get; init; }

    /// <summary>Why it was made.</summary>
    public required BackupKind Kind { get; init; }

    /// <summary>When, UTC, by the clock of the computer then.</summary>
    public required DateTime MadeAt { get; init; }

    /// <summary>Version of the database: the name of its last migration.</summary>
    public required string Schema { get; init; }

    /// <summary>Orders in it.</summary>
    public required int Orders { get; init; }

    /// <summary>Photos and recordings in it, files.</summary>
    public required int Files { get; init; }

    /// <summary>Size in bytes, its photos and recordings among it, which backups share.</summary>
    public required long Bytes { get; init; }

    /// <summary>Photos and recordings that the database speaks of and that were gone already when it was made.</summary>
    public required ImmutableArray<string> Missing { get; init; }
}

/// <summary>How far a backup or a restore has come.</summary>
/// <param name="Step">What is being done, in plain words.</param>
/// <param name="Part">How much of the step is done, from 0 to 1; null when nobody knows.</param>
public readonly record struct BackupProgress(string Step, double? Part = null);
