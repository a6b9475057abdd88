using System.Collections.Immutable;
using Microsoft.AspNetCore.Components;
using ShopDiag.Diagnosis.BenchTests;
using ShopDiag.Storage.Orders;

namespace ShopDiag.Web.Saving;

/// <summary>What a <see cref="SavedField"/> looks like.</summary>
public enum SavedFieldKind
{
    /// <summary>One line.</summary>
    Text,

    /// <summary>Several lines.</summary>
    Lines,

    /// <summary>A list to pick one from.</summary>
    Choice,

    /// <summary>Radio buttons as chips.</summary>
    OneOf,

    /// <summary>Check boxes as chips; the text is the chosen ids joined by commas.</summary>
    SeveralOf,
}

/// <summary>A field that saves itself as it is entered. The text in it is never taken away: a refusal or a conflict is said beside it.</summary>
public sealed partial class SavedField : IAsyncDisposable
{
    /// <summary>Where the browser stops taking in what is pasted: above any <see cref="MaxLength"/>, so that what it cut is always refused.</summary>
    private const int HardStop = 20_000;

    private readonly string _id = "field" + Guid.NewGuid().ToString("N")[..8];
    private FieldSaving _saving = null!;
    private string _described = "";

    /// <summary>Label.</summary>
    [Parameter, EditorRequired] public required string Label { get; set; }

    /// <inheritdoc cref="JournalledInput.Draft"/>
    [Parameter, EditorRequired] public required string Draft { get; set; }

    /// <summary>What the database has.</summary>
    [Parameter, EditorRequired] public required string Value { get; set; }

    /// <summary>Saves an entry.</summary>
    [Parameter, EditorRequired] public required Func<FieldEntry, Task<SaveResult>> Save { get; set; }

    /// <summary>What it looks like.</summary>
    [Parameter] public SavedFieldKind Kind { get; set; }

    /// <summary>The choices, for the kinds that have them.</summary>
    [Parameter] public ImmutableArray<Choice> Options { get; set; } = [];

    /// <inheritdoc cref="JournalledInput.Auto"/>
    [Parameter] public bool Auto { get; set; }

    /// <inheritdoc cref="JournalledInput.Private"/>
    [Parameter] public bool Private { get; set; }

    /// <summary>Unit or other word after the field.</summary>
    [Parameter] public string Unit { get; set; } = "";

    /// <summary>A line of help under the field.</summary>
    [Parameter] public string Hint { get; set; } = "";

    /// <summary>Type of the input element.</summary>
    [Parameter] public string InputType { get; set; } = "text";

    /// <summary>Keyboard the tablet offers: <c>text</c>, <c>numeric</c>, <c>decimal</c>, <c>tel</c>, <c>email</c>.</summary>
    [Parameter] public string InputMode { get; set; } = "text";

    /// <summary>What the tablet's keyboard capitalises: <c>sentences</c>, <c>words</c>, <c>characters</c> or <c>none</c>.</summary>
    [Parameter] public string Capitals { get; set; } = "sentences";

    /// <summary>Largest number of characters of a text. What is longer stays in the field and is refused beside it, never cut.</summary>
    [Parameter] public int MaxLength { get; set; } = 200;

    /// <summary>Id of a datalist with suggestions; null for none.</summary>
    [Parameter] public string? Suggestions { get; set; }

    /// <summary>Further CSS class.</summary>
    [Parameter] public string? Class { get; set; }

    /// <summary>Said below the field (a warning that refuses nothing).</summary>
    [Parameter] public RenderFragment? ChildContent { get; set; }

    [Inject] private TimeProvider Time { get; set; } = null!;

    [Inject] private ILogger<SavedField> Log { get; set; } = null!;

    private string? Invalid => _saving.Message.Length > 0 || _saving.Theirs is not null ? "true" : null;

    /// <inheritdoc/>
    public ValueTask DisposeAsync() => _saving.DisposeAsync();

    /// <inheritdoc/>
    protected override void OnInitialized()
    {
        _described = _id + "-about";
        _saving = new FieldSaving(SaveWholeAsync, OnDispatcher, Time, Log);
    }

    /// <inheritdoc/>
    protected override void OnParametersSet() => _saving.Loaded(Value);

    private Task<SaveResult> SaveWholeAsync(FieldEntry entry) => entry.Value.Length > MaxLength
        ? Task.FromResult(new SaveResult(SaveOutcome.Refused, _saving.Saved, $"At most {MaxLength} letters fit here; these are {entry.Value.Length}. Nothing is cut off: make it shorter."))
        : Save(entry);

    private Task OnDispatcher(Func<Task> work) => InvokeAsync(async () =>
    {
        await work();
        StateHasChanged();
    });

    private void Typed(JournalledEventArgs entry) => _saving.Typed(entry);

    private Task LeftAsync() => _saving.LeaveAsync();

    private Task KeepMineAsync() => _saving.KeepMineAsync();

    private void TakeTheirs() => _saving.TakeTheirs();

    private string InWords(string text)
    {
        if (text.Length == 0)
        {
            return "nothing";
        }

        var words = text.Split(',', StringSplitOptions.TrimEntries).Select(id => Options.FirstOrDefault(o => o.Id == id)?.Label ?? id);
        return Options.IsDefaultOrEmpty ? $"“{text}”" : string.Join(", ", words);
    }
}
