using Microsoft.JSInterop;
using ShopDiag.Storage.Orders;
using ShopDiag.Storage.Writing;

namespace ShopDiag.Web.Saving;

/// <summary>Carries out commands of one kind that the journal hands back after a reload or a killed server. Registered in the services.</summary>
public interface ICommandHandler
{
    /// <summary>The kind, such as <c>reading</c>.</summary>
    string Kind { get; }

    /// <summary>Does it. The id makes doing it twice harmless.</summary>
    Task<SaveResult> HandleAsync(Guid id, string payload, CancellationToken cancel = default);
}

/// <summary>A command as the browser's journal holds it.</summary>
/// <param name="Id">Made by the page before the first try.</param>
/// <param name="Kind">Which handler it is for.</param>
/// <param name="Payload">JSON text that the handler understands. No personal data: it stands in the browser's storage.</param>
/// <param name="Refused">Why an earlier try was refused, or null.</param>
public sealed record JournalledCommand(Guid Id, string Kind, string Payload, string? Refused);

/// <summary>
/// Runs what is not a field (a reading, a step of the order) so that it survives a lost connection or a killed server:
/// written in the browser's journal first, done, and only then taken out. One for each circuit.
/// <code>
/// var result = await commands.RunAsync("reading", readingId, payload);   // by the registered ICommandHandler
/// </code>
/// </summary>
public sealed class CommandJournal(IJSRuntime js, IEnumerable<ICommandHandler> handlers, ILogger<CommandJournal> log)
{
    private readonly Dictionary<string, ICommandHandler> _handlers = handlers.ToDictionary(h => h.Kind, StringComparer.Ordinal);
    private readonly List<JournalledCommand> _refused = [];

    /// <summary>Commands that were handed back and refused: a person has to look at them.</summary>
    public IReadOnlyList<JournalledCommand> Refused => _refused;

    /// <summary>Raised when <see cref="Refused"/> has changed.</summary>
    public event Action? Changed;

    /// <summary>
    /// Journals the command, does it and takes it out of the journal again. A refusal is the caller's to show, so the command goes too.
    /// Throws what <paramref name="act"/> throws; the command then stays in the journal and is tried again.
    /// </summary>
    /// <param name="kind">Kind of a registered handler.</param>
    /// <param name="id">Made by the caller, once for each thing done.</param>
    /// <param name="payload">What the handler needs, as JSON text.</param>
    /// <param name="act">What to do now; null for what the handler does.</param>
    public async Task<SaveResult> RunAsync(string kind, Guid id, string payload, Func<Task<SaveResult>>? act = null)
    {
        if (!_handlers.TryGetValue(kind, out var handler))
        {
            throw new ArgumentException($"No handler is registered for commands of the kind '{kind}'.", nameof(kind));
        }

        await TellAsync("journal.command", kind, id, payload);
        SaveResult result;
        try
        {
            result = act is null ? await handler.HandleAsync(id, payload) : await act();
        }
        catch (StorageTroubleException e)
        {
            // It stays in the journal and is handed back once there is room (StorageBanner).
            return new(SaveOutcome.Refused, "", $"{e.Message} This entry is kept on this tablet and saved once that is mended.");
        }

        await TellAsync("journal.done", id);
        return result;
    }

    /// <summary>Does what the journal handed back, in the order it was entered.</summary>
    public async Task ReplayAsync(IEnumerable<JournalledCommand> commands)
    {
        ArgumentNullException.ThrowIfNull(commands);
        foreach (var command in commands.Where(c => _refused.All(r => r.Id != c.Id)))
        {
            await ReplayAsync(command);
        }
    }

    /// <summary>Gives up a refused command.</summary>
    public async Task DiscardAsync(Guid id)
    {
        _refused.RemoveAll(c => c.Id == id);
        await TellAsync("journal.discard", id);
        Changed?.Invoke();
    }

    private async Task ReplayAsync(JournalledCommand command)
    {
        if (!_handlers.TryGetValue(command.Kind, out var handler))
        {
            await RefuseAsync(command, "This version of the program does not know what to do with it.");
            return;
        }

        SaveResult result;
        try
        {
            result = await handler.HandleAsync(command.Id, command.Payload);
        }
        catch (StorageTroubleException e)
        {
            log.LogWarning(e, "A command from the journal waits until the disk takes it");
            return;
        }

        if (result.Outcome is SaveOutcome.Refused or SaveOutcome.Conflict)
        {
            await RefuseAsync(command, result.Message);
        }
        else
        {
            await TellAsync("journal.done", command.Id);
        }
    }

    private async Task RefuseAsync(JournalledCommand command, string why)
    {
        _refused.Add(command with { Refused = why });
        await TellAsync("journal.refused", command.Id, why);
        Changed?.Invoke();
    }

    // A journal that cannot be reached must not keep anything from being saved: the worst is a command that is handed back and done twice, which its id makes harmless.
    private async Task TellAsync(string what, params object?[] arguments)
    {
        try
        {
            await js.InvokeVoidAsync(what, arguments);
        }
        catch (Exception e) when (e is JSDisconnectedException or JSException or TaskCanceledException)
        {
            log.LogWarning(e, "The tablet's journal could not be told ({What})", what);
        }
    }
}
