using System.Text.Json;
using ShopDiag.Diagnosis.BenchTests;
using ShopDiag.Storage.Orders;
using ShopDiag.Web.Saving;

namespace ShopDiag.Web.Components.WorkupViews;

/// <summary>A reading on its way to the database, as the tablet's journal keeps it until it is there.</summary>
public sealed record ReadingCommand
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

    /// <summary>True for a reading after the repair.</summary>
    public bool After { get; init; }

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
    public static ReadingCommand Of(Guid order, NewReading reading)
    {
        ArgumentNullException.ThrowIfNull(reading);
        var taken = reading.Reading;
        return new()
        {
            Order = order, Test = taken.Test, At = PlaceWords.Key(taken.At), Value = taken.Value.Fields, After = taken.Stage == Stage.After,
            Warm = taken.Warm, TakenAt = taken.TakenAt, By = taken.By, Note = taken.Note, Supersedes = reading.SupersedesId, Withdrawn = reading.Withdrawn,
        };
    }

    /// <summary>As JSON text.</summary>
    public string Write() => JsonSerializer.Serialize(this);

    /// <summary>Reads <see cref="Write"/> back; null for what is none.</summary>
    public static (Guid Order, NewReading Reading)? Read(Guid id, string payload)
    {
        try
        {
            return JsonSerializer.Deserialize<ReadingCommand>(payload) is { } command && PlaceWords.Read(command.At) is { } at
                ? (command.Order, new NewReading
                {
                    Id = id,
                    Reading = new Reading
                    {
                        Test = command.Test, At = at, Value = new ReadingValue(command.Value), Stage = command.After ? Stage.After : Stage.Before,
                        Warm = command.Warm, TakenAt = command.TakenAt, By = command.By, Note = command.Note,
                    },
                    SupersedesId = command.Supersedes,
                    Withdrawn = command.Withdrawn,
                })
                : null;
        }
        catch (JsonException)
        {
            return null;
        }
    }
}

/// <summary>Saves readings that the journal hands back after a reload or a killed server.</summary>
public sealed class ReadingCommandHandler(OrderStore orders) : ICommandHandler
{
    /// <inheritdoc/>
    public string Kind => ReadingCommand.Kind;

    /// <inheritdoc/>
    public Task<SaveResult> HandleAsync(Guid id, string payload, CancellationToken cancel = default) =>
        ReadingCommand.Read(id, payload) is { } command
            ? orders.AddReadingAsync(command.Order, command.Reading, cancel)
            : Task.FromResult(new SaveResult(SaveOutcome.Refused, "", "The reading kept on this tablet cannot be read. Take it again."));
}
