using Bunit;
using ShopDiag.Storage.Orders;
using ShopDiag.Web.Orders;
using ShopDiag.Web.Saving;
using ShopDiag.Web.Tests.Support;

namespace ShopDiag.Web.Tests.Saving;

public sealed class CommandJournalTests : PageTest
{
    private readonly Handler _handler = new();

    [Fact]
    public async Task A_command_is_in_the_journal_before_it_is_done_and_out_of_it_after()
    {
        var journal = New();
        _handler.Doing = () => Assert.Equal(["journal.command"], Told());
        var result = await journal.RunAsync("reading", Guid.NewGuid(), "{}");
        Assert.Equal(SaveOutcome.Saved, result.Outcome);
        Assert.Equal(["journal.command", "journal.done"], Told());
    }

    [Fact]
    public async Task A_command_that_fails_stays_in_the_journal()
    {
        var journal = New();
        _handler.Doing = () => throw new InvalidOperationException("disk gone");
        await Assert.ThrowsAsync<InvalidOperationException>(() => journal.RunAsync("reading", Guid.NewGuid(), "{}"));
        Assert.Equal(["journal.command"], Told());
    }

    [Fact]
    public async Task A_tablet_that_cannot_be_told_does_not_keep_anything_from_being_saved()
    {
        JSInterop.SetupVoid("journal.command", _ => true).SetException(new Microsoft.JSInterop.JSDisconnectedException("gone"));
        Assert.Equal(SaveOutcome.Saved, (await New().RunAsync("reading", Guid.NewGuid(), "{}")).Outcome);
        Assert.Single(_handler.Done);
    }

    [Fact]
    public async Task What_was_left_undone_is_done_in_order_with_the_same_ids()
    {
        var commands = Enumerable.Range(1, 3).Select(i => new JournalledCommand(Guid.NewGuid(), "reading", $"{i}", null)).ToList();
        await New().ReplayAsync(commands);
        Assert.Equal(commands.Select(c => (c.Id, c.Payload)), _handler.Done);
        Assert.Equal(3, Told().Count(t => t == "journal.done"));
    }

    [Fact]
    public async Task A_replayed_command_that_is_refused_waits_for_a_person_and_is_asked_once()
    {
        var journal = New();
        _handler.Answer = new SaveResult(SaveOutcome.Refused, "", "This engine has no cylinder 8.");
        var command = new JournalledCommand(Guid.NewGuid(), "reading", "{}", null);
        await journal.ReplayAsync([command]);
        await journal.ReplayAsync([command]);
        Assert.Equal("This engine has no cylinder 8.", Assert.Single(journal.Refused).Refused);
        Assert.Single(_handler.Done);
        await journal.DiscardAsync(command.Id);
        Assert.Empty(journal.Refused);
        Assert.Contains("journal.discard", Told());
    }

    [Fact]
    public async Task A_command_of_an_unknown_kind_is_kept_and_said()
    {
        var journal = New();
        await journal.ReplayAsync([new JournalledCommand(Guid.NewGuid(), "from a newer version", "{}", null)]);
        Assert.Single(journal.Refused);
        await Assert.ThrowsAsync<ArgumentException>(() => journal.RunAsync("nobody handles this", Guid.NewGuid(), "{}"));
    }

    [Fact]
    public async Task A_damaged_payload_is_refused_in_words()
    {
        var handler = new JsonCommandHandler<MoveOrder>("move", (_, _, _) => Task.FromResult(new SaveResult(SaveOutcome.Saved, "")));
        Assert.Equal("What the tablet kept cannot be read.", (await handler.HandleAsync(Guid.NewGuid(), "{\"order\":")).Message);
    }

    [Fact]
    public async Task A_command_comes_back_from_its_text_as_it_went_in()
    {
        var move = new MoveOrder(Guid.NewGuid(), OrderStage.InRepair, "Ann", "parts are here");
        MoveOrder? got = null;
        var handler = new JsonCommandHandler<MoveOrder>("move", (command, _, _) =>
        {
            got = command;
            return Task.FromResult(new SaveResult(SaveOutcome.Saved, ""));
        });
        await handler.HandleAsync(Guid.NewGuid(), CommandJson.Write(move));
        Assert.Equal(move, got);
    }

    private CommandJournal New() => new(JSInterop.JSRuntime, [_handler], NoLog<CommandJournal>());

    private IEnumerable<string> Told() => JSInterop.Invocations.Select(i => i.Identifier);

    private sealed class Handler : ICommandHandler
    {
        public List<(Guid, string)> Done { get; } = [];

        public Action Doing { get; set; } = () => { };

        public SaveResult Answer { get; set; } = new(SaveOutcome.Saved, "");

        public string Kind => "reading";

        public Task<SaveResult> HandleAsync(Guid id, string payload, CancellationToken cancel = default)
        {
            Doing();
            Done.Add((id, payload));
            return Task.FromResult(Answer);
        }
    }
}
