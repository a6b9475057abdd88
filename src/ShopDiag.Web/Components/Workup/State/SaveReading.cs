using System.Text.Json;
using ShopDiag.Diagnosis.BenchTests;
using ShopDiag.Storage.Orders;
using ShopDiag.Web.Orders;

namespace ShopDiag.Web.Components.WorkupViews;

/// <summary>A reading on its way to the database, as the tablet's journal keeps it until it is there.</summary>
public sealed record SaveReading
{
    /// <summary>The kind of command in the journal.</summary>
    public const string Kind = "reading";

    /// <summary>The order.</summary>
    public required Guid Order { get; init; }

    /// <summary>The test's id.</summary>
    public required string Test { get; init; }

    /// <summary>The place (<see cref="PlaceWords.Key"/>).</summary>
    public required string At { get; init; }

    /// <summary>The values in base units, by field.</summary>
    public required IReadOnlyDictionary<string, FieldValue> Value { get; init; }

    /// <summary>Before or after the repair.</summary>
    public Stage Stage { get; init; }

    /// <summary>Engine warm, cold, or not said.</summary>
    public bool? Warm { get; init; }

    /// <summary>When it was taken.</summary>
    public DateTimeOffset? TakenAt { get; init; }

    /// <summary>Who took it.</summary>
    public string? By { get; init; }

    /// <summary>The note.</summary>
    public string? Note { get; init; }

    /// <summary>The reading that it corrects.</summary>
    public Guid? Supersedes { get; init; }

    /// <summary>True when it takes that one back.</summary>
    public bool Withdrawn { get; init; }

    /// <summary>The command of a new reading.</summary>
    public static SaveReading Of(Guid order, NewReading reading)
    {
        ArgumentNullException.ThrowIfNull(reading);
        var taken = reading.Reading;
        return new()
        {
            Order = order, Test = taken.Test, At = PlaceWords.Key(taken.At), Value = taken.Value.Fields, Stage = taken.Stage,
            Warm = taken.Warm, TakenAt = taken.TakenAt, By = taken.By, Note = taken.Note, Supersedes = reading.SupersedesId, Withdrawn = reading.Withdrawn,
        };
    }

    /// <summary>The reading of a command. Throws <see cref="JsonException"/> when its place is none.</summary>
    public NewReading ToReading(Guid id) => new()
    {
        Id = id,
        Reading = new Reading
        {
            Test = Test, At = PlaceWords.Read(At) ?? throw new JsonException($"'{At}' is no place."), Value = new ReadingValue(Value), Stage = Stage,
            Warm = Warm, TakenAt = TakenAt, By = By, Note = Note,
        },
        SupersedesId = Supersedes,
        Withdrawn = Withdrawn,
    };
}

/// <summary>What the workup page needs.</summary>
public static class WorkupServices
{
    /// <summary>Adds the shared assessments and the handlers of what the journal hands back.</summary>
    public static IServiceCollection AddWorkupPage(this IServiceCollection services) => services
        .AddSingleton<Assessments>()
        .AddCommand<SaveReading>(SaveReading.Kind, (store, c, id, cancel) => store.AddReadingAsync(c.Order, c.ToReading(id), cancel))
        .AddCommand<SaveObstacle>(SaveObstacle.Kind, (store, c, id, cancel) => store.AddObstacleAsync(c.Order, c.ToObstacle(id), cancel))
        .AddCommand<EndObstacle>(EndObstacle.Kind, (store, c, id, cancel) => store.EndObstacleAsync(c.Order, c.Obstacle, id, c.By, cancel));
}
