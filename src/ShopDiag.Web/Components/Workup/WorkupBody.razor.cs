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
    // Entries that are being saved or wait for their turn.
    private readonly HashSet<EntryForm> _underWay = [];
    private WorkupSession? _session;
    private EntryFlow? _flow;
    private WorkupBrowser? _browser;
    private ImmutableArray<IGrouping<string, StepView>> _any = [];
    private ImmutableArray<CellKey> _unfinished = [];
    private int? _cylinder;
    private string _problem = "";
    private string _done = "";
    private Task _lastTurn = Task.CompletedTask;
    private bool _saying;
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
            _flow = new EntryFlow(view.Engine, Knowledge, view.Units, _session.IsFilled, _session.IsBarred);
        }

        if (view is not null)
        {
            var steps = new StepViews(view.Engine, Knowledge);
            _any = [.. Knowledge.Tests.Where(t => t.Fits(view.Engine)).Select(t => (t.Chapter, Step: AnyOf(t, steps, view))).GroupBy(p => p.Chapter, p => p.Step)];
        }

        StateHasChanged();
        _ = ReadPhotosAsync();
    }

    // It may be taken all the same: then what was said was wrong, and ends.
    private static StepView AnyOf(BenchTest test, StepViews steps, WorkupView view)
    {
        var step = steps.OfAny(test, view.Stage);
        return ObstacleView.Standing(view.Order, test, Place.Engine).Any() ? step with { What = $"{step.What} ({ObstacleView.Word})" } : step;
    }

    // What is being entered, where it is not what was suggested: its cautions must be in sight while it is done.
    private StepView? InHand(WorkupView view) =>
        _flow?.Test is { } test && view.Steps.FirstOrDefault()?.Start?.Test != test.Id ? new StepViews(view.Engine, Knowledge).OfAny(test, view.Stage) with { Where = "" } : null;

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
}
