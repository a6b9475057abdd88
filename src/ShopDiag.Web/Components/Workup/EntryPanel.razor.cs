using System.Collections.Immutable;
using Microsoft.AspNetCore.Components;
using ShopDiag.Diagnosis;
using ShopDiag.Diagnosis.BenchTests;
using ShopDiag.Diagnosis.Engines;
using ShopDiag.Web.Saving;

namespace ShopDiag.Web.Components.WorkupViews;

/// <summary>The panel in which one cell is entered: number pad, fields, history.</summary>
public sealed partial class EntryPanel
{
    /// <summary>Name of the note among the drafts of a cell; no field of a test is called so.</summary>
    public const string NoteField = "note";

    private const string ObstacleFormId = "wk-entry-obstacle";

    private string? _active;
    private CellKey? _saying;

    /// <summary>The entry; its form must be open.</summary>
    [Parameter, EditorRequired] public required EntryFlow Flow { get; set; }

    /// <summary>The order's key.</summary>
    [Parameter, EditorRequired] public required Guid Order { get; set; }

    /// <summary>The engine.</summary>
    [Parameter, EditorRequired] public required Engine Engine { get; set; }

    /// <summary>What was read in this cell before.</summary>
    [Parameter, EditorRequired] public required CellHistory History { get; set; }

    /// <summary>Says whether a cell has a reading.</summary>
    [Parameter, EditorRequired] public required Func<CellKey, bool> Filled { get; set; }

    /// <summary>Says whether a cell is said not to be possible.</summary>
    [Parameter, EditorRequired] public required Func<CellKey, bool> Blocked { get; set; }

    /// <summary>What is said to keep the test from being taken in this cell.</summary>
    [Parameter] public ImmutableArray<ObstacleView> Obstacles { get; set; } = [];

    /// <summary>It is said that the test cannot be taken.</summary>
    [Parameter] public EventCallback<ObstacleSaid> OnSay { get; set; }

    /// <summary>The form to say so was opened; called with its id.</summary>
    [Parameter] public EventCallback<string> OnSaying { get; set; }

    /// <summary>It can be taken after all.</summary>
    [Parameter] public EventCallback<Guid> OnEndObstacle { get; set; }

    /// <summary>Enter or a touch has led somewhere: a reading to save, or a field to go to.</summary>
    [Parameter] public EventCallback<EntryStep> OnStep { get; set; }

    /// <summary>Another place of the test was chosen.</summary>
    [Parameter] public EventCallback<Place> OnPlace { get; set; }

    /// <summary>Firing order (true) or bank order was chosen.</summary>
    [Parameter] public EventCallback<bool> OnFiringOrder { get; set; }

    /// <summary>A reading is to be taken back.</summary>
    [Parameter] public EventCallback<Guid> OnTakeBack { get; set; }

    /// <summary>The panel is to be closed.</summary>
    [Parameter] public EventCallback OnClose { get; set; }

    /// <summary>What stays with the cell beside its readings: photos.</summary>
    [Parameter] public RenderFragment? ChildContent { get; set; }

    private EntryForm Form => Flow.Form!;

    private BenchTest Test => Flow.Test!;

    private ImmutableArray<CellField> Numbers => [.. Form.Fields.Where(f => f.Field.Kind == FieldKind.Number)];

    private string NoteDraft => Form.Cell.DraftKey(Order, NoteField);

    private bool IsFiringOrderBankOrder => Engine.FiringOrder.SequenceEqual(Engine.Banks.SelectMany(b => b));

    private string EnterWord => Flow.Next is { } next ? $"Enter, then {next.First}" : "Enter";

    private bool IsSaying => _saying is not null;

    private bool IsBlocked(Place place) => Blocked(Form.Cell with { At = place });

    private bool IsFilled(Place place) => Filled(Form.Cell with { At = place });

    // A choice put back by the journal is only shown: what saves is the touch of a person.
    private async Task TypedAsync(CellField field, JournalledEventArgs typed)
    {
        var touched = field.Field.Kind is FieldKind.Choice or FieldKind.Cylinder || (field.Field.Kind is FieldKind.Codes or FieldKind.Choices && typed.Value == CellField.None);
        if (touched && !typed.Replayed && typed.Value.Length > 0)
        {
            await OnStep.InvokeAsync(Form.Touch(field.Field.Name, typed.Value));
            return;
        }

        field.Text = typed.Value;
    }

    // Of one cell only, and said once: the next cell begins with a closed form, and so does this one when it can be taken after all.
    protected override void OnParametersSet() => _saying = _saying == Form.Cell && Obstacles.IsEmpty ? _saying : null;

    private Task SayAsync()
    {
        _saying = IsSaying ? null : Form.Cell;
        return IsSaying ? OnSaying.InvokeAsync(ObstacleFormId) : Task.CompletedTask;
    }

    private Task EnterAsync() => OnStep.InvokeAsync(_active is { } name && Form.Fields.Any(f => f.Field.Name == name) ? Form.Enter(name) : Form.Finish());

    private Task KeepAsync(CellField field)
    {
        field.Keep();
        return OnStep.InvokeAsync(Form.Enter(field.Field.Name));
    }

    private Task FocusOn(string name) => OnStep.InvokeAsync(new EntryStep(null, name));
}
