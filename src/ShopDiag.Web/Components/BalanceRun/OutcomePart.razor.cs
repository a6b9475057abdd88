using System.Collections.Immutable;
using System.Globalization;
using Microsoft.AspNetCore.Components;
using ShopDiag.Diagnosis;
using ShopDiag.Diagnosis.Engines;
using ShopDiag.Diagnosis.Workups;
using ShopDiag.Signals.Cancellations;
using ShopDiag.Storage.Recordings;
using ShopDiag.Web.BalanceRuns;
using ShopDiag.Web.Orders;

namespace ShopDiag.Web.Components.BalanceRunViews;

/// <summary>The outcome of one recording. What is said by hand is saved with the recording at once.</summary>
public sealed partial class OutcomePart
{
    private BalanceRecording? _recording;
    private RunAnalysis? _analysis;
    private InputError? _error;
    private ImmutableArray<CylinderTrials> _trials = [];
    private ImmutableArray<VerdictTable.Bar> _bars = [];
    private ImmutableDictionary<int, Finding> _verdicts = ImmutableDictionary<int, Finding>.Empty;
    private string _order = "";
    private string _rough = "";
    private string _column = "";
    private string _unit = "";
    private bool _busy;
    private bool _missing;
    private bool _replace = true;

    /// <summary>The order.</summary>
    [CascadingParameter] public required OrderLive Live { get; set; }

    /// <summary>The recording's key.</summary>
    [Parameter, EditorRequired] public required Guid Recording { get; set; }

    /// <summary>The engine.</summary>
    [Parameter, EditorRequired] public required Engine Engine { get; set; }

    /// <summary>Called with the cylinders to be taken again.</summary>
    [Parameter] public EventCallback<ImmutableArray<int>> OnAgain { get; set; }

    [Inject] private RecordingStore Store { get; set; } = null!;

    [Inject] private Knowledge Knowledge { get; set; } = null!;

    private string Here => $"/orders/{Live.Order.Number}/balance-run";

    /// <inheritdoc/>
    protected override async Task OnInitializedAsync()
    {
        if (await Store.GetAsync(Recording) is not { RemovedAt: null } recording || recording.OrderId != Live.Order.Id)
        {
            _missing = true;
            return;
        }

        _recording = recording;
        _order = string.Join(" ", recording.Plan.Order);
        _rough = recording.Plan.RoughRpm?.ToString("0", CultureInfo.InvariantCulture) ?? "";
        (_column, _unit) = (recording.Plan.SpeedColumn?.ToString(CultureInfo.InvariantCulture) ?? "", recording.Plan.TimeUnit ?? "");
        await AnalyseAsync();
    }

    private async Task AnalyseAsync()
    {
        var recording = _recording!;
        (_busy, _error) = (true, null);
        StateHasChanged();
        // Beside the circuit: a long recording takes seconds.
        var analysis = await Task.Run(() =>
        {
            using var file = Store.OpenFile(recording.Id, recording.Kind);
            return file is null ? new InputError("", "The file of this recording is no longer in the data folder.") : RunAnalysis.Of(recording, file);
        });
        (_busy, _error, _analysis) = (false, analysis.Error, analysis.IsValid ? analysis.Value : null);
        await JudgeAsync();
    }

    private async Task JudgeAsync()
    {
        _trials = _analysis is { } analysis ? RunReadings.Of(analysis) : [];
        _bars = _analysis is null ? [] : BarsOf(_analysis);
        var (workup, trials, stage, replace) = (Live.Workup, _trials, _recording!.Stage, _replace);
        _verdicts = workup is null || trials.IsEmpty
            ? ImmutableDictionary<int, Finding>.Empty
            : await Task.Run(() => RunReadings.Verdicts(workup, Knowledge, trials, stage, replace));
    }

    private ImmutableArray<VerdictTable.Bar> BarsOf(RunAnalysis analysis) =>
    [
        .. _trials.Select(t => new VerdictTable.Bar(t, ErrorOf([.. analysis.Drops.Where(d => d.Fate == DropFate.Counts && d.Cylinder == t.Cylinder).Select(d => d.Measured)]))),
    ];

    /// <summary>Standard error of the mean of trials, not less than their own scatter says.</summary>
    private static double ErrorOf(CancelledDrop[] trials)
    {
        var heard = Math.Sqrt(trials.Average(t => t.StandardError * t.StandardError) / trials.Length);
        var mean = trials.Average(t => t.Drop);
        var scatter = trials.Length < 2 ? 0 : Math.Sqrt(trials.Sum(t => (t.Drop - mean) * (t.Drop - mean)) / (trials.Length - 1) / trials.Length);
        return Math.Max(heard, scatter);
    }

    private Task ReplaceAsync(bool replace)
    {
        _replace = replace;
        return JudgeAsync();
    }

    private async Task GiveAsync(RunDrop drop, string? chosen)
    {
        var others = _recording!.Plan.Given.Where(g => RunDrop.KeyOf(g.Start) != drop.Key);
        await SetPlanAsync(_recording.Plan with
        {
            Given = int.TryParse(chosen, NumberStyles.None, CultureInfo.InvariantCulture, out var cylinder) ? [.. others, new GivenDrop(drop.Key, cylinder)] : [.. others],
        });
        if (_analysis is { } analysis)
        {
            _analysis = RunAnalysis.Of(_recording.Cylinders, _recording.Plan, analysis.Trace);
            await JudgeAsync();
        }
    }

    private async Task AnalyseAgainAsync()
    {
        var setup = new RunSetup(Engine) { OrderText = _order, RoughText = _rough };
        var rough = setup.ReadRough();
        var order = _recording!.Plan.Times.IsEmpty && !string.IsNullOrWhiteSpace(_order) ? ReadOrder() : _recording.Plan.Order;
        if ((rough.Error ?? order.Error) is { } wrong)
        {
            _error = wrong;
            return;
        }

        await SetPlanAsync(_recording.Plan with
        {
            Order = order.Value,
            RoughRpm = rough.Value,
            SpeedColumn = int.TryParse(_column, NumberStyles.None, CultureInfo.InvariantCulture, out var column) ? column : null,
            TimeUnit = _unit.Length > 0 ? _unit : null,
        });
        await AnalyseAsync();
    }

    private Parsed<ImmutableArray<int>> ReadOrder() => new RunSetup(Engine) { OrderText = _order }.ReadOrder();

    private async Task SetPlanAsync(RecordingPlan plan)
    {
        await Store.SetPlanAsync(_recording!.Id, plan);
        _recording = _recording with { Plan = plan };
    }

    /// <summary>Cylinders of which nothing counts although they were announced.</summary>
    private ImmutableArray<int> Again(RunAnalysis analysis)
    {
        var counted = _trials.Select(t => t.Cylinder).ToHashSet();
        return [.. analysis.Drops.Where(d => d.Fate == DropFate.Open).Select(d => d.Cylinder).OfType<int>().Where(c => !counted.Contains(c)).Distinct().Order()];
    }

    private string Heading(BalanceRecording recording) => string.Create(
        CultureInfo.InvariantCulture,
        $"{(recording.Kind == RecordingKind.Sound ? "Sound" : "Speed log")} of {Live.Clock.Say(recording.MadeAt)}, {recording.Seconds:0} s{(recording.By.Length > 0 ? $", {recording.By}" : "")}{(recording.LostSeconds >= 0.05 ? $", {recording.LostSeconds:0.0} s of it lost" : "")}{(recording.Finished ? "" : ", broken off")}");

    private string NoteOf(BalanceRecording recording) =>
        $"Balance run, {(recording.Kind == RecordingKind.Sound ? "heard" : "from a speed log")}, recording of {Live.Clock.Say(recording.MadeAt)}";

    private static IReadOnlyList<SpeedChart.Band> Bands(RunAnalysis analysis) =>
        [.. analysis.Drops.Select(d => new SpeedChart.Band(d.Measured.Start, d.Measured.End, d.Cylinder?.ToString(CultureInfo.InvariantCulture) ?? "?", d.Fate == DropFate.LeftOut))];

    private static string DropWords(RunDrop drop) => (drop.Measured.Kind, drop.Fate, drop.Cylinder) switch
    {
        (_, DropFate.LeftOut, { } c) => $"Cylinder {c}: taken back",
        (_, DropFate.LeftOut, null) => drop.ByHand ? "No cylinder's" : "The idle wandered: nobody's cylinder",
        (DropKind.NoDrop, _, { } c) => $"Cylinder {c}: the speed did not fall",
        (DropKind.Unclear, _, { } c) => $"Cylinder {c}: unclear, take it again",
        (DropKind.Incomplete, _, _) => "A fall that did not come back",
        (_, _, { } c) => $"Cylinder {c}{(drop.ByHand ? ", given by hand" : "")}",
        (DropKind.Unannounced, _, null) => "A drop that nobody announced",
        _ => "A drop without a cylinder",
    };

    private static string Figures(CancelledDrop drop) => string.Create(
        CultureInfo.InvariantCulture, $"{drop.BaseRpm:0} → {drop.CancelledRpm:0} rpm, {drop.Drop:0} ± {Math.Max(1, Math.Ceiling(drop.StandardError)):0}").Replace('-', '−');

    private static string Chosen(RunDrop drop) => drop.ByHand ? (drop.Cylinder ?? 0).ToString(CultureInfo.InvariantCulture) : "";

    private static string Time(double seconds) => string.Create(CultureInfo.InvariantCulture, $"{(int)seconds / 60}:{(int)seconds % 60:00}");
}
