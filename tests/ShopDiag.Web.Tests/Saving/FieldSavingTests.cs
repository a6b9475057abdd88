using Microsoft.Extensions.Logging.Abstractions;
using Microsoft.Extensions.Time.Testing;
using ShopDiag.Storage.Orders;
using ShopDiag.Web.Saving;

namespace ShopDiag.Web.Tests.Saving;

/// <summary>How a field saves itself, without a screen. The answers of the store are scripted, the clock is moved by hand.</summary>
public sealed class FieldSavingTests : IAsyncDisposable
{
    private readonly FakeTimeProvider _time = new();
    private readonly List<FieldEntry> _sent = [];
    private readonly FieldSaving _field;
    private Func<FieldEntry, Task<SaveResult>> _answer = e => Task.FromResult(new SaveResult(SaveOutcome.Saved, e.Value));
    private long _sequence;

    public FieldSavingTests()
    {
        _field = new FieldSaving(
            entry =>
            {
                _sent.Add(entry);
                return _answer(entry);
            },
            work => work(), _time, NullLogger.Instance);
        _field.Loaded("old");
    }

    public ValueTask DisposeAsync() => _field.DisposeAsync();

    [Fact]
    public void Typing_is_saved_once_after_a_pause()
    {
        Type("n");
        _time.Advance(FieldSaving.Pause / 2);
        Type("ne");
        Type("new");
        _time.Advance(FieldSaving.Pause / 2);
        Assert.Empty(_sent);
        _time.Advance(FieldSaving.Pause);
        Assert.Equal(("new", "old"), (Assert.Single(_sent).Value, _sent[0].Base));
        Assert.Equal(("new", "new", 3L, false), (_field.Text, _field.Saved, _field.Ack, _field.Unsaved));
    }

    [Fact]
    public async Task Leaving_the_field_saves_at_once_and_shows_the_text_as_the_database_writes_it()
    {
        _answer = e => Task.FromResult(new SaveResult(SaveOutcome.Saved, e.Value.ToUpperInvariant()));
        Type("abc");
        await _field.FlushAsync();
        Assert.Equal("abc", _field.Text);
        await _field.LeaveAsync();
        Assert.Equal("ABC", _field.Text);
        Assert.Single(_sent);
    }

    [Fact]
    public void A_replayed_entry_is_saved_without_waiting_with_its_own_id_and_base()
    {
        var id = Guid.NewGuid();
        _field.Typed(new JournalledEventArgs { Value = "kept on the tablet", Base = "older", Sequence = 7, Id = id, Replayed = true });
        _time.Advance(TimeSpan.FromMilliseconds(1));
        Assert.Equal(new FieldEntry("kept on the tablet", "older", id), Assert.Single(_sent));
        Assert.Equal(7, _field.Ack);
    }

    /// <summary>On a slow line the answer to the first save is still under way when more is typed: nobody else changed anything.</summary>
    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public async Task What_is_typed_before_the_tablet_has_heard_of_the_save_builds_on_it(bool replayed)
    {
        Type("one");
        await _field.FlushAsync();
        Type("one two", "old", replayed);
        await _field.FlushAsync();
        Type("one two three", "old", replayed);
        await _field.FlushAsync();
        Assert.Equal(["old", "one", "one two"], _sent.Select(e => e.Base));
    }

    [Fact]
    public async Task What_somebody_else_wrote_after_a_save_is_not_built_on_unseen()
    {
        Type("one");
        await _field.FlushAsync();
        _field.Loaded("theirs");
        Type("one two", "old");
        await _field.FlushAsync();
        Assert.Equal("old", _sent[1].Base);
    }

    [Fact]
    public async Task What_is_typed_while_a_save_is_on_its_way_is_saved_next_on_top_of_it()
    {
        var first = new TaskCompletionSource<SaveResult>();
        _answer = _ => first.Task;
        Type("one");
        var flush = _field.FlushAsync();
        Type("one two");
        _answer = e => Task.FromResult(new SaveResult(SaveOutcome.Saved, e.Value));
        first.SetResult(new SaveResult(SaveOutcome.Saved, "one"));
        await flush;
        Assert.Equal(["one", "one two"], _sent.Select(e => e.Value));
        Assert.Equal("one", _sent[1].Base);
        Assert.Equal((2L, false), (_field.Ack, _field.Unsaved));
    }

    [Fact]
    public async Task Typing_back_to_the_old_text_while_a_save_is_on_its_way_ends_with_the_old_text_saved()
    {
        var first = new TaskCompletionSource<SaveResult>();
        _answer = _ => first.Task;
        Type("old and more");
        var flush = _field.FlushAsync();
        Type("old");
        _answer = e => Task.FromResult(new SaveResult(SaveOutcome.Saved, e.Value));
        first.SetResult(new SaveResult(SaveOutcome.Saved, "old and more"));
        await flush;
        Assert.Equal(("old", "old", 2L), (_field.Text, _field.Saved, _field.Ack));
        Assert.Equal("old", _sent[^1].Value);
    }

    [Fact]
    public async Task A_refused_text_stays_with_the_reason_and_is_not_sent_again_until_it_changes()
    {
        _answer = e => Task.FromResult(new SaveResult(SaveOutcome.Refused, "old", "no number"));
        Type("x");
        await _field.LeaveAsync();
        await _field.FlushAsync();
        Assert.Equal(("x", "no number", true, 0L), (_field.Text, _field.Message, _field.Unsaved, _field.Ack));
        Assert.Single(_sent);
        Type("12");
        Assert.Equal("", _field.Message);
        _answer = e => Task.FromResult(new SaveResult(SaveOutcome.Saved, e.Value));
        await _field.FlushAsync();
        Assert.Equal(("12", false, 2L), (_field.Saved, _field.Unsaved, _field.Ack));
    }

    [Fact]
    public async Task In_a_conflict_both_texts_are_kept_and_nothing_is_sent_until_a_person_chooses()
    {
        Conflict("theirs");
        Type("mine");
        await _field.FlushAsync();
        Type("mine, longer");
        await _field.FlushAsync();
        Assert.Equal(("mine, longer", "theirs"), (_field.Text, _field.Theirs));
        Assert.Single(_sent);
    }

    [Fact]
    public async Task Keeping_mine_saves_over_theirs_with_a_new_id()
    {
        Conflict("theirs");
        Type("mine");
        await _field.FlushAsync();
        _answer = e => Task.FromResult(new SaveResult(SaveOutcome.Saved, e.Value));
        await _field.KeepMineAsync();
        Assert.Equal(("mine", "theirs"), (_sent[1].Value, _sent[1].Base));
        Assert.NotEqual(_sent[0].Id, _sent[1].Id);
        Assert.Equal((null, "mine", false), (_field.Theirs, _field.Saved, _field.Unsaved));
    }

    [Fact]
    public async Task Taking_theirs_lets_go_of_mine()
    {
        Conflict("theirs");
        Type("mine");
        await _field.FlushAsync();
        _field.TakeTheirs();
        Assert.Equal(("theirs", "theirs", false, 1L), (_field.Text, _field.Saved, _field.Unsaved, _field.Ack));
    }

    [Fact]
    public async Task A_database_that_does_not_answer_is_asked_again_and_nothing_is_lost()
    {
        _answer = _ => throw new InvalidOperationException("disk gone");
        Type("precious");
        await _field.FlushAsync();
        Assert.Equal(("precious", true, 0L), (_field.Text, _field.Unsaved, _field.Ack));
        Assert.Contains("kept on this tablet", _field.Message, StringComparison.Ordinal);
        _answer = e => Task.FromResult(new SaveResult(SaveOutcome.Saved, e.Value));
        _time.Advance(FieldSaving.Retry);
        Assert.Equal(("precious", false, ""), (_field.Saved, _field.Unsaved, _field.Message));
    }

    [Fact]
    public void A_change_on_another_tablet_shows_unless_something_unsaved_stands_here()
    {
        _field.Loaded("from elsewhere");
        Assert.Equal("from elsewhere", _field.Text);
        Type("mine");
        _field.Loaded("from elsewhere again");
        Assert.Equal("mine", _field.Text);
    }

    [Fact]
    public async Task A_page_that_still_has_the_value_from_before_the_save_does_not_bring_it_back()
    {
        Type("new");
        await _field.FlushAsync();
        _field.Loaded("old");
        Assert.Equal("new", _field.Text);
    }

    [Fact]
    public async Task Going_away_saves_what_is_unsaved()
    {
        Type("typed just before leaving the page");
        await _field.DisposeAsync();
        Assert.Equal("typed just before leaving the page", Assert.Single(_sent).Value);
    }

    private void Type(string text, string? onTopOf = null, bool replayed = false) =>
        _field.Typed(new JournalledEventArgs { Value = text, Base = onTopOf ?? _field.Saved, Sequence = ++_sequence, Id = Guid.NewGuid(), Replayed = replayed });

    private void Conflict(string theirs) => _answer = _ => Task.FromResult(new SaveResult(SaveOutcome.Conflict, theirs, "changed meanwhile"));
}
