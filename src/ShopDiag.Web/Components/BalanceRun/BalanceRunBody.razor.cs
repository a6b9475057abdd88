using System.Collections.Immutable;
using System.Globalization;
using Microsoft.AspNetCore.Components;
using Microsoft.JSInterop;
using ShopDiag.Diagnosis.BenchTests;
using ShopDiag.Diagnosis.Engines;
using ShopDiag.Signals.Guided;
using ShopDiag.Storage.Orders;
using ShopDiag.Storage.Recordings;
using ShopDiag.Web.BalanceRuns;
using ShopDiag.Web.Orders;

namespace ShopDiag.Web.Components.BalanceRunViews;

/// <summary>The balance run of one order on one open page.</summary>
public sealed partial class BalanceRunBody : IAsyncDisposable
{
    private Engine? _engine;
    private RunSetup? _setup;
    private BalanceBrowser? _browser;
    private DotNetObjectReference<BalanceRunBody>? _self;
    private LiveRun? _heard;
    private string _microphone = "";
    private string _problem = "";
    private string _remark = "";
    private string _busy = "";
    private bool _feeding;

    /// <summary>The order.</summary>
    [CascadingParameter] public required OrderLive Live { get; set; }

    /// <summary><c>typed</c> for the run with typed speeds.</summary>
    [SupplyParameterFromQuery] public string? Do { get; set; }

    /// <summary>The recording whose outcome is shown.</summary>
    [SupplyParameterFromQuery] public Guid? Show { get; set; }

    /// <summary>The cylinders of the typed run, in order: <c>1-3-4-2</c>.</summary>
    [SupplyParameterFromQuery] public string? Order { get; set; }

    /// <summary>Seconds a cylinder is held off in the typed run.</summary>
    [SupplyParameterFromQuery] public double? Hold { get; set; }

    /// <summary><c>after</c> for readings after the repair.</summary>
    [SupplyParameterFromQuery(Name = "stage")] public string? StageText { get; set; }

    [Inject] private OrderPageServices With { get; set; } = null!;

    [Inject] private LiveRuns Runs { get; set; } = null!;

    [Inject] private NavigationManager Navigation { get; set; } = null!;

    [Inject] private IJSRuntime Js { get; set; } = null!;

    [Inject] private ILogger<BalanceRunBody> Log { get; set; } = null!;

    private LiveRun? Run => Show is null && Do is null ? _heard ?? Runs.Of(Live.Order.Id) : null;

    private string WorkupLink => $"/orders/{Live.Order.Number}/workup";

    private string Here => $"/orders/{Live.Order.Number}/balance-run";

    private Stage StageNow => StageText == "after" ? Stage.After : Stage.Before;

    private bool HasAfter => Live.Order.Finding is not null || Live.Order.Stage.HasReached(OrderStage.InRepair);

    private double TypedHold => Math.Clamp(Hold is { } hold && double.IsFinite(hold) ? hold : 3, RunPlan.ShortestHold, RunPlan.LongestHold);

    private string TypedKey => $"{Order}|{StageText}";

    /// <summary>Sound from the browser.</summary>
    [JSInvokable]
    public void Sound(long first, byte[] pcm) => _heard?.Feed(first, pcm);

    /// <summary>The device took the microphone away.</summary>
    [JSInvokable]
    public Task MicrophoneEnded() => InvokeAsync(() =>
    {
        (_feeding, _problem) = (false, "The tablet has taken the microphone away. Listen again, or stop with what there is.");
        StateHasChanged();
    });

    /// <inheritdoc/>
    public async ValueTask DisposeAsync()
    {
        if (_browser is not null)
        {
            await _browser.DisposeAsync();
        }

        _self?.Dispose();
    }

    /// <inheritdoc/>
    protected override void OnParametersSet()
    {
        if (Live.Order.Vehicle.Engine is { } spec && (_engine is null || !ReferenceEquals(_engine.Spec, spec)) && Engine.Create(spec) is { IsValid: true } engine)
        {
            // The order is read anew after every change: what was set for the same engine stays.
            var same = _engine is not null && _engine.FiringOrder.SequenceEqual(engine.Value.FiringOrder) && _engine.Ignition == engine.Value.Ignition;
            _engine = engine.Value;
            _setup = same ? _setup : new(_engine) { Stage = HasAfter && Live.Order.Stage.HasReached(OrderStage.RepairCheck) ? Stage.After : Stage.Before };
        }
    }

    /// <inheritdoc/>
    protected override async Task OnAfterRenderAsync(bool firstRender)
    {
        if (_browser is null && _engine is not null)
        {
            var browser = new BalanceBrowser(Js, Log);
            await browser.StartAsync();
            _browser = browser;
            _microphone = await browser.MicrophoneAsync();
            StateHasChanged();
        }
    }

    private static ImmutableArray<int> TypedOrderOf(string? order, Engine engine) =>
    [
        .. (order ?? "").Split('-').Select(n => int.TryParse(n, NumberStyles.None, CultureInfo.InvariantCulture, out var cylinder) ? cylinder : 0)
            .Where(engine.Cylinders.Contains).Take(3 * Engine.MaxCylinders),
    ];

    private ImmutableArray<int> TypedOrder(Engine engine) => TypedOrderOf(Order, engine) is { IsEmpty: false } order ? order : [.. _setup!.ReadOrder() is { IsValid: true } all ? all.Value : engine.Cylinders];

    private async Task ListenAsync()
    {
        (_problem, _remark) = ("", "");
        var (plan, rough) = (_setup!.Read(listens: true), _setup.ReadRough());
        if ((plan.Error ?? rough.Error) is { } wrong)
        {
            _problem = wrong.Message;
            return;
        }

        if (await MicrophoneAsync() is not { } rate)
        {
            return;
        }

        var run = await Runs.StartAsync(
            new()
            {
                Id = Guid.CreateVersion7(), OrderId = Live.Order.Id, Kind = RecordingKind.Sound, By = With.Tablet.By, Stage = _setup.Stage, Cylinders = _engine!.CylinderCount, Method = _setup.Method,
                Plan = new() { Order = plan.Value.Order, RoughRpm = rough.Value },
            },
            plan.Value,
            Recordings);
        if (run.Error is { } error)
        {
            _problem = error.Message;
            await _browser!.CloseAsync();
            return;
        }

        await FeedAsync(run.Value, rate);
    }

    private async Task ListenAgainAsync()
    {
        _problem = "";
        if (Runs.Of(Live.Order.Id) is { } run && await MicrophoneAsync() is { } rate)
        {
            await FeedAsync(run, rate);
            run.Do((g, now) => g.Resume(now));
        }
    }

    private async Task FeedAsync(LiveRun run, int rate)
    {
        if (!run.Begin(rate))
        {
            _problem = run.View.Problem is { Length: > 0 } broken ? broken : "The sound comes at another rate than before and cannot go on in the same recording. Stop this run with what there is.";
            await _browser!.CloseAsync();
            return;
        }

        (_heard, _feeding) = (run, true);
        await _browser!.SendAsync(_self ??= DotNetObjectReference.Create(this));
    }

    /// <summary>Asks for the microphone; null, with the problem said, when there is none.</summary>
    private async Task<int?> MicrophoneAsync()
    {
        _busy = "Asking for the microphone…";
        StateHasChanged();
        var answer = await _browser!.OpenAsync();
        _busy = "";
        if (answer.Problem is { } problem)
        {
            (_problem, _microphone) = (MicrophoneWords.Problem(problem, answer.Detail), problem is "insecure" or "none" ? problem : _microphone);
            return null;
        }

        _remark = MicrophoneWords.Processed(answer.Processed ?? []);
        return (int)answer.Rate;
    }

    private void TypeSpeeds()
    {
        var order = _setup!.Read(listens: false);
        if (order.Error is { } wrong)
        {
            _problem = wrong.Message;
            return;
        }

        _problem = "";
        Navigation.NavigateTo(string.Create(
            CultureInfo.InvariantCulture, $"{Here}?do=typed&order={string.Join('-', order.Value.Order)}&hold={_setup.Hold}{(_setup.Stage == Stage.After ? "&stage=after" : "")}"));
    }

    private void LeaveTyped() => Navigation.NavigateTo(Here);

    private async Task KeepAsync()
    {
        (_problem, _remark) = ("", "");
        var (order, rough) = (_setup!.Read(listens: false), _setup.ReadRough());
        if ((order.Error ?? rough.Error) is { } wrong)
        {
            _problem = wrong.Message;
            return;
        }

        _busy = "Reading and sending the recording…";
        StateHasChanged();
        var id = Guid.CreateVersion7();
        var problem = await _browser!.KeepAsync(RunSetupPart.FileId, string.Create(
            CultureInfo.InvariantCulture,
            $"{RecordingEndpoints.Address(Live.Order.Number, id)}?order={string.Join(',', order.Value.Order)}&rough={rough.Value}&stage={(_setup.Stage == Stage.After ? "after" : "before")}"));
        _busy = "";
        if (problem.Length > 0)
        {
            _problem = problem;
            return;
        }

        ShowOutcome(id);
    }

    private async Task FinishedAsync(LiveRun run)
    {
        (_heard, _feeding, _remark, _problem) = (null, false, "", run.View.Problem);
        await (_browser?.CloseAsync() ?? Task.CompletedTask);
        var recording = await RecordingOf(run);
        if (recording is { RemovedAt: null })
        {
            ShowOutcome(run.Recording.Id);
        }
        else
        {
            _remark = "The run was stopped before a cylinder was taken.";
            StateHasChanged();
        }
    }

    private Task<BalanceRecording?> RecordingOf(LiveRun run) => Recordings.GetAsync(run.Recording.Id);

    [Inject] private RecordingStore Recordings { get; set; } = null!;

    private void ShowOutcome(Guid id) => Navigation.NavigateTo($"{Here}?show={id}");

    private void TakeAgain(ImmutableArray<int> cylinders)
    {
        (_setup!.OrderText, _setup.Rounds) = (string.Join(" ", cylinders.Select(c => c.ToString(CultureInfo.InvariantCulture))), 1);
        Navigation.NavigateTo(Here);
    }
}
