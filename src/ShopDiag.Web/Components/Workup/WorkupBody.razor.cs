using System.Collections.Immutable;
using Microsoft.AspNetCore.Components;
using Microsoft.JSInterop;
using ShopDiag.Diagnosis;
using ShopDiag.Diagnosis.BenchTests;
using ShopDiag.Diagnosis.Workups;
using ShopDiag.Storage.Orders;
using ShopDiag.Web.Orders;

namespace ShopDiag.Web.Components.WorkupViews;

/// <summary>The technician's page of one order.</summary>
public sealed partial class WorkupBody : IAsyncDisposable
{
    private WorkupSession? _session;
    private EntryFlow? _flow;
    private WorkupBrowser? _browser;
    private ImmutableArray<IGrouping<string, StepView>> _any = [];
    private ImmutableArray<CellKey> _unfinished = [];
    private int? _cylinder;
    private string _problem = "";
    private string _done = "";
    private bool _saving;
    private Func<WorkupBrowser, Task>? _afterRender;

    /// <summary>The order.</summary>
    [CascadingParameter] public required OrderLive Live { get; set; }

    [Inject] private OrderPageServices With { get; set; } = null!;

    [Inject] private Assessments Assessments { get; set; } = null!;

    [Inject] private IJSRuntime Js { get; set; } = null!;

    [Inject] private ILogger<WorkupBody> Log { get; set; } = null!;

    private Knowledge Knowledge => With.Knowledge;

    private string OrderLink => $"/orders/{Live.Order.Number}";

    private int? SelectedCylinder => _flow?.Cell is { At: { Kind: PlaceKind.Cylinder } at } ? at.First : null;

    /// <inheritdoc/>
    public async ValueTask DisposeAsync()
    {
        _session?.Dispose();
        if (_browser is not null)
        {
            await _browser.DisposeAsync();
        }
    }

    /// <inheritdoc/>
    protected override Task OnInitializedAsync()
    {
        _session = new WorkupSession(Live, With, Assessments);
        _session.Changed += OnChanged;
        return _session.RefreshAsync();
    }

    /// <inheritdoc/>
    protected override async Task OnAfterRenderAsync(bool firstRender)
    {
        if (_session?.View is null)
        {
            return;
        }

        if (_browser is null)
        {
            _browser = new WorkupBrowser(Js, Log);
            await _browser.StartAsync();
            _unfinished = await UnfinishedAsync();
            StateHasChanged();
        }

        if (_afterRender is { } then)
        {
            _afterRender = null;
            await then(_browser);
        }
    }

    // A new engine on the order is a new sheet: the entry begins afresh.
    private void OnChanged()
    {
        var view = _session!.View;
        if (view is not null && (_flow is null || !_flow.Fits(view.Engine)))
        {
            _flow = new EntryFlow(view.Engine, Knowledge, view.Units, _session.IsFilled);
        }

        if (view is not null)
        {
            var steps = new StepViews(view.Engine, Knowledge);
            _any = [.. Knowledge.Tests.Where(t => t.Fits(view.Engine)).Select(t => (t.Chapter, Step: steps.OfAny(t, view.Stage))).GroupBy(p => p.Chapter, p => p.Step)];
        }

        StateHasChanged();
    }

    // What is being entered, where it is not what was suggested: its cautions must be in sight while it is done.
    private StepView? InHand(WorkupView view) =>
        _flow?.Test is { } test && view.Steps.FirstOrDefault()?.Start?.Test != test.Id ? new StepViews(view.Engine, Knowledge).OfAny(test, view.Stage) with { Where = "" } : null;

    private Task StartAsync(StepView step)
    {
        if (step.Start is not { } cell)
        {
            return Task.CompletedTask;
        }

        Open(f => f.Start(cell, step.Round));
        return cell.Stage == _session!.View!.Stage ? Task.CompletedTask : _session.ShowStageAsync(cell.Stage);
    }

    private Task OpenAsync(CellKey cell, bool round)
    {
        Open(f => f.Open(cell, round));
        return cell.Stage == _session!.View!.Stage ? Task.CompletedTask : _session.ShowStageAsync(cell.Stage);
    }

    private void GoAsync(Place place) => Open(f => f.Go(place));

    private void SetFiringOrderAsync(bool firingOrder) => Open(f => f.SetFiringOrder(firingOrder));

    private void Open(Action<EntryFlow> open)
    {
        open(_flow!);
        (_cylinder, _problem) = (null, "");
        FocusField(_flow!.Form!.First, stay: false);
        var focus = _afterRender!;
        _afterRender = async b =>
        {
            await b.UnrollAsync("wk-do-top");
            await focus(b);
        };
    }

    private void ShowOthers() => _afterRender = b => b.UnrollAsync("wk-other");

    private void ShowCylinderAsync(int cylinder)
    {
        _flow!.Close();
        _cylinder = _cylinder == cylinder ? null : cylinder;
        if (_cylinder is not null)
        {
            _afterRender = b => b.FocusAsync("wk-cylinder-title", stay: true);
        }
    }

    private Task ShowCausesAsync() => _browser?.ShowAsync("causes") ?? Task.CompletedTask;

    private Task ShowStageAsync(Stage stage)
    {
        _flow!.Close();
        return _session!.ShowStageAsync(stage);
    }

    private void CloseAsync()
    {
        var cell = _flow!.Cell;
        _flow.Close();
        _cylinder = null;
        _afterRender = async b =>
        {
            if (cell is { } back)
            {
                await b.FocusCellAsync(back);
            }

            // What was typed and not entered is unfinished work now.
            _unfinished = await UnfinishedAsync();
            StateHasChanged();
        };
    }

    private async Task StepAsync(EntryStep step)
    {
        var form = _flow!.Form!;
        if (step.Reading is not { } reading)
        {
            FocusField(step.Focus ?? form.First, stay: step.Focus is { } name && (form[name].Refusal ?? form[name].Doubt) is not null);
            return;
        }

        // A second Enter while the first is under way is the same Enter.
        if (_saving)
        {
            return;
        }

        _saving = true;
        try
        {
            await SaveAsync(form, reading);
        }
        finally
        {
            _saving = false;
        }
    }

    private async Task SaveAsync(EntryForm form, Reading reading)
    {
        var keys = DraftsOf(form);
        var corrected = form.Mode == EntryMode.Correct && _session!.History(form.Cell).Counting is [.., var newest] ? newest.Id : (Guid?)null;
        var result = await _session!.SaveAsync(reading, corrected, () => _browser?.ForgetAsync(keys) ?? Task.CompletedTask);
        if (!WorkupSession.IsSaved(result))
        {
            _problem = result.Message;
            form.Fields[0].Refuse(result.Message);
            FocusField(form.Fields[0].Field.Name, stay: true);
            return;
        }

        (_problem, _done) = (result.Message, "");
        // Whoever takes the first reading has begun to look for the cause.
        if (Live.Order.Stage == OrderStage.WrittenUp)
        {
            await Live.MoveAsync(OrderStage.InDiagnosis, "");
        }

        _unfinished = _unfinished.Remove(form.Cell);
        // Somebody may have gone to another cell while this one was being saved.
        if (!ReferenceEquals(_flow!.Form, form))
        {
            return;
        }

        if (_flow.Advance())
        {
            FocusField(_flow.Form!.First, stay: false);
        }
        else
        {
            _afterRender = b => b.FocusCellAsync(form.Cell);
        }
    }

    private Task UndoAsync() => _session!.Last is { } last ? TakeBackAsync(last.Id) : Task.CompletedTask;

    private async Task TakeBackAsync(Guid reading)
    {
        Said(await _session!.TakeBackAsync(reading), "Taken back. It stays on record.");
        if (_flow!.Form is { } form)
        {
            FocusField(form.First, stay: false);
        }
    }

    private Task TakeFindingAsync(Conclusion conclusion) => FindingAsync(conclusion, null);

    private Task TakeUnprovenAsync((CauseView Cause, string Reason) without) =>
        FindingAsync(FindingViews.WithoutProof(without.Cause, _session!.View!.Engine, Knowledge), without.Reason);

    private async Task FindingAsync(Conclusion conclusion, string? reason)
    {
        var first = conclusion.Causes[0];
        var probability = _session!.View!.Assessment.Causes.FirstOrDefault(c => c.Cause == first.Cause && c.At == first.At)?.Probability ?? 0;
        Said(await _session.TakeFindingAsync(conclusion, probability, reason), "Taken over as the finding.");
        if (reason is not null && _problem.Length == 0 && _browser is not null)
        {
            await _browser.ForgetAsync([WithoutProof.ReasonDraft(Live.Order.Id)]);
        }
    }

    private async Task TakeFindingBackAsync() => Said(await _session!.TakeFindingBackAsync(), "The finding is taken back.");

    private void Said(SaveResult result, string done)
    {
        _session!.ForgetLast();
        (_problem, _done) = WorkupSession.IsSaved(result) ? ("", done) : (result.Message, "");
    }

    private Task PickUpAsync(CellKey cell)
    {
        _unfinished = _unfinished.Remove(cell);
        var opened = OpenAsync(cell, true);
        // The journal puts the text back; what is typed now goes on from its end.
        FocusField(_flow!.Form!.First, stay: true);
        return opened;
    }

    private async Task ForgetAsync(CellKey cell)
    {
        _unfinished = _unfinished.Remove(cell);
        if (Knowledge.Test(cell.Test) is { } test && _browser is not null)
        {
            await _browser.ForgetAsync(DraftsOf(cell, test));
        }
    }

    private string[] DraftsOf(EntryForm form) => DraftsOf(form.Cell, _flow!.Test!);

    private string[] DraftsOf(CellKey cell, BenchTest test) =>
        [.. test.Fields.Select(f => f.Name).Append(EntryPanel.NoteField).Select(n => cell.DraftKey(Live.Order.Id, n))];

    private async Task<ImmutableArray<CellKey>> UnfinishedAsync()
    {
        var keys = await _browser!.DraftsAsync(CellKey.DraftPrefix(Live.Order.Id));
        return
        [
            .. keys.Select(k => CellKey.ReadDraft(Live.Order.Id, k)?.Cell).OfType<CellKey>().Distinct()
                .Where(c => c != _flow?.Cell && Knowledge.Test(c.Test) is not null && _session!.View!.Engine.Has(c.At)),
        ];
    }

    private void FocusField(string name, bool stay)
    {
        var index = _flow!.Form!.Fields.IndexOf(_flow.Form[name]);
        _afterRender = b => b.FocusAsync(EntryFieldView.IdOf(index), stay);
    }
}
