using System.Text.Json;
using System.Text.Json.Serialization;
using ShopDiag.Comebacks.Repairs;
using ShopDiag.Diagnosis.Engines;
using ShopDiag.Storage.Orders;
using ShopDiag.Web.Saving;

namespace ShopDiag.Web.Orders;

/// <summary>Moves an order to a stage.</summary>
/// <param name="Order">The order.</param>
/// <param name="Stage">Where to.</param>
/// <param name="By">By whom.</param>
/// <param name="Reason">Why, for a step back.</param>
public sealed record MoveOrder(Guid Order, OrderStage Stage, string By, string Reason);

/// <summary>Puts an engine on an order's vehicle.</summary>
/// <param name="Order">The order.</param>
/// <param name="Engine">The engine.</param>
/// <param name="Title">The engine in words.</param>
/// <param name="By">By whom.</param>
public sealed record ChooseEngine(Guid Order, EngineSpec Engine, string Title, string By);

/// <summary>Puts a known vehicle on an order.</summary>
/// <param name="Order">The order.</param>
/// <param name="Vehicle">The vehicle.</param>
public sealed record UseVehicle(Guid Order, Guid Vehicle);

/// <summary>Says whether an order is a comeback.</summary>
/// <param name="Order">The order.</param>
/// <param name="Earlier">The earlier order, for a comeback.</param>
/// <param name="Answer">The answer.</param>
/// <param name="By">By whom.</param>
public sealed record AnswerComeback(Guid Order, Guid? Earlier, ComebackAnswer Answer, string By);

/// <summary>A handler of commands whose payload is one record as JSON.</summary>
public sealed class JsonCommandHandler<T>(string kind, Func<T, Guid, CancellationToken, Task<SaveResult>> handle) : ICommandHandler
{
    /// <inheritdoc/>
    public string Kind => kind;

    /// <inheritdoc/>
    public Task<SaveResult> HandleAsync(Guid id, string payload, CancellationToken cancel = default)
    {
        try
        {
            return JsonSerializer.Deserialize<T>(payload, CommandJson.Options) is { } command
                ? handle(command, id, cancel)
                : Task.FromResult(new SaveResult(SaveOutcome.Refused, "", "What the tablet kept is empty."));
        }
        catch (JsonException)
        {
            // Written by another version of the program, or damaged: a person decides, nothing is guessed.
            return Task.FromResult(new SaveResult(SaveOutcome.Refused, "", "What the tablet kept cannot be read."));
        }
    }
}

/// <summary>Commands as JSON text.</summary>
public static class CommandJson
{
    internal static JsonSerializerOptions Options { get; } = new(JsonSerializerDefaults.Web) { Converters = { new JsonStringEnumConverter() } };

    /// <summary>A command as the journal keeps it.</summary>
    public static string Write<T>(T command) => JsonSerializer.Serialize(command, Options);
}
