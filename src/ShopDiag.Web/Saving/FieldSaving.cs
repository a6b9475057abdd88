using ShopDiag.Storage.Orders;

namespace ShopDiag.Web.Saving;

/// <summary>One try to save a field.</summary>
/// <param name="Value">The new text.</param>
/// <param name="Base">What was there when typing began; null skips the check for a change by somebody else.</param>
/// <param name="Id">Command id: repeating it is harmless.</param>
public sealed record FieldEntry(string Value, string? Base, Guid Id);

/// <summary>
/// How a field saves itself: waits for a pause in typing, saves, and keeps the text whatever comes back. Knows nothing of
/// the screen. Everything runs on the component's dispatcher, which <c>dispatch</c> leads to from the timer.
/// </summary>
public sealed class FieldSaving(Func<FieldEntry, Task<SaveResult>> save, Func<Func<Task>, Task> dispatch, TimeProvider time, ILogger log) : IAsyncDisposable
{
    /// <summary>A pause in typing that is long enough to save: long for fingers, short for losing a tablet.</summary>
    public static readonly TimeSpan Pause = TimeSpan.FromMilliseconds(400);

    /// <summary>After the database could not be reached; the text is safe in the journal meanwhile.</summary>
    public static readonly TimeSpan Retry = TimeSpan.FromSeconds(5);

    // What stood there before this field's own saves, since somebody else's text was last shown: a tablet that has not heard of a save yet still builds on it.
    private readonly HashSet<string> _before = new(StringComparer.Ordinal);
    private ITimer? _timer;
    private string? _base;
    private string? _loaded;
    private string? _refused;
    private Guid _id;
    private long _sequence;
    private bool _saving;
    private bool _typing;

    /// <summary>The text in the field.</summary>
    public string Text { get; private set; } = "";

    /// <summary>What the database has, as far as this field knows.</summary>
    public string Saved { get; private set; } = "";

    /// <summary>Number of the latest journal entry that is dealt with.</summary>
    public long Ack { get; private set; }

    /// <summary>True while the text is not in the database.</summary>
    public bool Unsaved { get; private set; }

    /// <summary>What somebody else wrote meanwhile; null when there is no conflict.</summary>
    public string? Theirs { get; private set; }

    /// <summary>Why the text was not saved, in plain words; empty when there is nothing to say.</summary>
    public string Message { get; private set; } = "";

    /// <summary>
    /// The page has this value from the database; it is shown unless something unsaved stands in the field. The same value again says
    /// nothing new: it may have been read before the latest save.
    /// </summary>
    public void Loaded(string value)
    {
        if (!Unsaved && value != _loaded)
        {
            if (value != Saved)
            {
                _before.Clear();
            }

            Text = Saved = value;
        }

        _loaded = value;
    }

    /// <summary>Something was entered: takes it over and saves after a pause.</summary>
    public void Typed(JournalledEventArgs entry)
    {
        ArgumentNullException.ThrowIfNull(entry);
        (Text, _sequence, _id) = (entry.Value, entry.Sequence, entry.Id);
        if (!Unsaved)
        {
            (_base, Unsaved) = (entry.Base is { } older && _before.Contains(older) ? Saved : entry.Base, true);
        }

        _typing = !entry.Replayed;
        Message = Theirs is null && Text != _refused ? "" : Message;
        SaveAfter(entry.Replayed ? TimeSpan.Zero : Pause);
    }

    /// <summary>The field was left: saves now, and shows the text as the database writes it.</summary>
    public async Task LeaveAsync()
    {
        _typing = false;
        await FlushAsync();
        if (!Unsaved)
        {
            Text = Saved;
        }
    }

    /// <summary>Saves what is unsaved. Does nothing during a conflict or for a text just refused.</summary>
    public async Task FlushAsync()
    {
        if (_saving || !Unsaved || Theirs is not null || Text == _refused)
        {
            return;
        }

        _saving = true;
        try
        {
            while (await SaveOnceAsync())
            {
                // More was typed while it was being saved.
            }
        }
        finally
        {
            _saving = false;
        }
    }

    /// <summary>Ends a conflict with one's own text.</summary>
    public Task KeepMineAsync()
    {
        _before.Clear();
        (_base, Theirs, Message, _id) = (Theirs, null, "", Guid.NewGuid());
        return FlushAsync();
    }

    /// <summary>Ends a conflict with the other's text.</summary>
    public void TakeTheirs()
    {
        if (Theirs is { } theirs)
        {
            _before.Clear();
            (Text, Saved, Theirs, Message, Unsaved, Ack) = (theirs, theirs, null, "", false, _sequence);
        }
    }

    /// <inheritdoc/>
    public async ValueTask DisposeAsync()
    {
        _timer?.Dispose();
        _timer = null;
        await FlushAsync();
    }

    private void SaveAfter(TimeSpan wait)
    {
        _timer ??= time.CreateTimer(_ => _ = dispatch(FlushAsync), null, Timeout.InfiniteTimeSpan, Timeout.InfiniteTimeSpan);
        _timer.Change(wait, Timeout.InfiniteTimeSpan);
    }

    // True when there is more to save.
    private async Task<bool> SaveOnceAsync()
    {
        var (sent, sequence) = (Text, _sequence);
        SaveResult result;
        try
        {
            result = await save(new FieldEntry(sent, _base, _id));
        }
        catch (Exception e) when (e is not OperationCanceledException)
        {
            // Whatever keeps the database from answering, the text stays here and in the journal, and is tried again.
            log.LogError(e, "A field could not be saved");
            Message = "Could not be saved just now. It is kept on this tablet and tried again.";
            SaveAfter(Retry);
            return false;
        }

        return Take(result, sent, sequence);
    }

    private bool Take(SaveResult result, string sent, long sequence)
    {
        var typedOn = Text != sent;
        switch (result.Outcome)
        {
            case SaveOutcome.Saved or SaveOutcome.AlreadySaved:
                if (_base is not null)
                {
                    _before.Add(_base);
                }

                (Saved, _base, _refused, Message) = (result.Current, result.Current, null, "");
                Ack = typedOn ? sequence : _sequence;
                Unsaved = typedOn;
                Text = typedOn || _typing ? Text : Saved;
                return typedOn;
            case SaveOutcome.Conflict:
                (Theirs, Message) = (result.Current, result.Message);
                return false;
            case SaveOutcome.Refused:
                (_refused, Message) = (sent, result.Message);
                return typedOn;
            default:
                throw new InvalidOperationException($"Unknown outcome {result.Outcome}.");
        }
    }
}
