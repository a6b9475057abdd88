using System.Collections.Immutable;
using ShopDiag.Diagnosis;
using ShopDiag.Diagnosis.BenchTests;

namespace ShopDiag.Storage.Photos;

/// <summary>The two sizes in which a photo is kept.</summary>
public enum PhotoSize
{
    /// <summary>To look at, draw on and print.</summary>
    Full,

    /// <summary>To show beside a reading.</summary>
    Small,
}

/// <summary>A photo that comes to an order, with its pictures still to be kept.</summary>
public sealed record NewPhoto
{
    /// <summary>Key, made by the client before the first try; also the name of its files.</summary>
    public required Guid Id { get; init; }

    /// <summary>The order.</summary>
    public required Guid OrderId { get; init; }

    /// <summary>Id of the test it was taken at. A photo belongs to a place on the sheet, not to one number there: it can be taken before or without any, and stays when a number is corrected.</summary>
    public required string Test { get; init; }

    /// <summary>Where on the engine.</summary>
    public required Place At { get; init; }

    /// <summary>Before or after the repair.</summary>
    public Stage Stage { get; init; }

    /// <summary>Width of the full picture in pixels, from 1.</summary>
    public required int Width { get; init; }

    /// <summary>Height of the full picture in pixels, from 1.</summary>
    public required int Height { get; init; }

    /// <summary>When it was taken, UTC; null for now. A time in the future is taken for now.</summary>
    public DateTime? TakenAt { get; init; }

    /// <summary>Who took it, or empty.</summary>
    public string By { get; init; } = "";
}

/// <summary>A photo of an order. Its pictures are files beside the database and never change; what is said about it does.</summary>
public sealed record Photo
{
    /// <summary>Key, and name of its files.</summary>
    public required Guid Id { get; init; }

    /// <summary>The order.</summary>
    public required Guid OrderId { get; init; }

    /// <inheritdoc cref="NewPhoto.Test"/>
    public required string Test { get; init; }

    /// <summary>Where on the engine.</summary>
    public required Place At { get; init; }

    /// <summary>Before or after the repair.</summary>
    public required Stage Stage { get; init; }

    /// <summary>Width of the full picture in pixels.</summary>
    public required int Width { get; init; }

    /// <summary>Height of the full picture in pixels.</summary>
    public required int Height { get; init; }

    /// <summary>When it was taken, UTC.</summary>
    public required DateTime TakenAt { get; init; }

    /// <summary>Who took it, or empty.</summary>
    public required string By { get; init; }

    /// <summary>What it shows, in the technician's words, or empty.</summary>
    public required string Caption { get; init; }

    /// <summary>What was drawn on it, in the order it was drawn.</summary>
    public required ImmutableArray<PhotoStroke> Marks { get; init; }

    /// <summary>True when it is printed in the customer report.</summary>
    public required bool InReport { get; init; }

    /// <summary>When it was deleted, UTC; null while it was not. The files go <see cref="PhotoStore.KeptAfterRemoval"/> later.</summary>
    public required DateTime? RemovedAt { get; init; }
}
