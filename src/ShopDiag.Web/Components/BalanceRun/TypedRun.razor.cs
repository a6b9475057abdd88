using System.Collections.Immutable;
using System.Globalization;
using Microsoft.AspNetCore.Components;
using ShopDiag.Diagnosis;
using ShopDiag.Diagnosis.BenchTests;
using ShopDiag.Diagnosis.Engines;
using ShopDiag.Diagnosis.Workups;
using ShopDiag.Signals.Guided;
using ShopDiag.Web.BalanceRuns;
using ShopDiag.Web.Components.EngineViews;
using ShopDiag.Web.Components.WorkupViews;
using ShopDiag.Web.Orders;
using ShopDiag.Web.Saving;
using ShopDiag.Web.Shop;

namespace ShopDiag.Web.Components.BalanceRunViews;

/// <summary>A balance run with typed speeds: each turn is a run of its own over one cylinder, begun by a touch.</summary>
public sealed partial class TypedRun : IDisposable
{
    private static readonly TimeSpan TickTime = TimeSpan.FromMilliseconds(100);

    private readonly CancellationTokenSource _gone = new();
    private ImmutableArray<TypedRow> _rows = [];
    private ImmutableArray<CylinderTrials> _trials = [];
    private ImmutableArray<VerdictTable.Bar> _bars = [];
    private ImmutableDictionary<int, Finding> _verdicts = ImmutableDictionary<int, Finding>.Empty;
    private GuidedRun? _run;
    private long _began;
    private int _at;
    private int _asked;
    private bool _replace = true;
    private bool _ticking;

    /// <summary>The order of work.</summary>
    [CascadingParameter] public required OrderLive Live { get; set; }

    /// <summary>The engine.</summary>
    [Parameter, EditorRequired] public required Engine Engine { get; set; }

    /// <summary>The cylinders in order, each as often as it is cancelled.</summary>
    [Parameter, EditorRequired] public required ImmutableArray<int> Order { get; set; }

    /// <summary>Seconds a cylinder is held off.</summary>
    [Parameter] public double Hold { get; set; } = 3;

    /// <summary>Before or after the repair.</summary>
    [Parameter] public Stage Stage { get; set; }

    /// <summary>How cylinders are cancelled.</summary>
    [Parameter] public string Method { get; set; } = "";

    /// <summary>True for tones at each turn.</summary>
    [Parameter] public bool Tones { get; set; }

    /// <summary>The browser's side.</summary>
    [Parameter] public BalanceBrowser? Browser { get; set; }

    /// <summary>Called to go back to the settings.</summary>
    [Parameter] public EventCallback OnLeave { get; set; }

    [Inject] private Knowledge Knowledge { get; set; } = null!;

    [Inject] private TimeProvider Clock { get; set; } = null!;

    private double Now => Clock.GetElapsedTime(_began).TotalSeconds;

    private RunWords Words => (_run?.Phase, _at < _rows.Length ? _rows[_at].Cylinder : 0) switch
    {
        (RunPhase.Waiting, var c) => new("Next", $"Cylinder {c}", "Everything connected. Read the steady speed and type it, then cancel.", null),
        (RunPhase.Off, var c) => new("Now", $"Cancel cylinder {c}", "Read the lowest speed.", "cancel"),
        (RunPhase.Restoring, var c) => new("Now", $"Restore cylinder {c}", "Type the lowest speed, and let the engine recover for half a minute.", "restore"),
        _ => new("Done", "All cylinders taken", "Everything connected?", null),
    };

    /// <inheritdoc/>
    public void Dispose()
    {
        _gone.Cancel();
        _gone.Dispose();
    }

    /// <inheritdoc/>
    protected override void OnInitialized()
    {
        var (test, units) = (Knowledge.Test(RunReadings.Test)!, ShopUnits.Of(Live.Settings));
        CellField Field(string name) => new(test.Fields.First(f => f.Name == name), units);
        _rows = [.. Order.Select(c => new TypedRow(c, Field("baseRpm"), Field("cancelledRpm")))];
        _began = Clock.GetTimestamp();
        Begin();
    }

    private static string Id(int index, CellField field) => string.Create(CultureInfo.InvariantCulture, $"br-{index}-{field.Field.Name}");

    private string Draft(int index, CellField field) => string.Create(
        CultureInfo.InvariantCulture, $"balance:{Live.Order.Id}:{(Stage == Stage.After ? "after" : "before")}:{index}-c{_rows[index].Cylinder}:{field.Field.Name}");

    private void Begin() => _run = _at < _rows.Length ? new(new() { Order = [_rows[_at].Cylinder], Listens = false, HoldSeconds = Hold }, Now) : null;

    private async Task CancelAsync()
    {
        _run!.CancelNow(Now);
        await CueAsync();
        if (!_ticking)
        {
            _ = TickAsync();
        }
    }

    private async Task RestoredAsync()
    {
        _run!.Restored(Now);
        await CueAsync();
        await FocusAsync();
    }

    private async Task TickAsync()
    {
        _ticking = true;
        try
        {
            using var timer = new PeriodicTimer(TickTime, Clock);
            while (_run is { Phase: RunPhase.Off } run && await timer.WaitForNextTickAsync(_gone.Token))
            {
                run.Tick(Now);
                if (run.Phase == RunPhase.Restoring && ReferenceEquals(run, _run))
                {
                    StateHasChanged();
                    await CueAsync();
                    await FocusAsync();
                }
            }
        }
        catch (OperationCanceledException)
        {
            // The page is gone.
        }
        finally
        {
            _ticking = false;
        }
    }

    private Task CueAsync() => Browser?.CueAsync(Words.Cue ?? "", _run?.Until is { } until ? Math.Max(0, until - Now) : null, Tones) ?? Task.CompletedTask;

    private Task FocusAsync()
    {
        var row = _rows[_at];
        return Browser?.FocusAsync(Id(_at, row.Base.IsEmpty ? row.Base : row.Cancelled)) ?? Task.CompletedTask;
    }

    private async Task NextAsync()
    {
        // An empty row is left for later; one with a mistake is said.
        var row = _rows[_at];
        if (!row.Base.IsEmpty || !row.Cancelled.IsEmpty)
        {
            row.Read();
            if (!row.IsComplete)
            {
                await FocusAsync();
                return;
            }
        }

        await GoAsync(_at + 1 < _rows.Length ? _at + 1 : _rows.Length);
    }

    private async Task GoAsync(int index)
    {
        _at = index;
        Begin();
        await (Browser?.CueAsync("", null, false) ?? Task.CompletedTask);
    }

    private async Task TypedAsync(CellField field, JournalledEventArgs e)
    {
        field.Text = e.Value;
        // What the journal puts back after a reload: the run goes on behind it.
        if (e.Replayed && _run is { Phase: RunPhase.Waiting })
        {
            var open = Enumerable.Range(0, _rows.Length).FirstOrDefault(i => _rows[i].Base.IsEmpty || _rows[i].Cancelled.IsEmpty, _rows.Length);
            if (open != _at)
            {
                _at = open;
                Begin();
            }
        }

        await JudgeAsync();
    }

    private Task LeftAsync(CellField field)
    {
        if (!field.IsEmpty)
        {
            field.Read();
        }

        return JudgeAsync();
    }

    private Task KeepAsync(CellField field)
    {
        field.Keep();
        return JudgeAsync();
    }

    private Task ReplaceAsync(bool replace)
    {
        _replace = replace;
        return JudgeAsync();
    }

    private async Task JudgeAsync()
    {
        var asked = ++_asked;
        _trials =
        [
            .. _rows.Select(r => (r.Cylinder, Speeds: r.Speeds)).Where(r => r.Speeds is not null).GroupBy(r => r.Cylinder).OrderBy(g => g.Key)
                .Select(g => new CylinderTrials(g.Key, [.. g.Select(r => r.Speeds!.Value.Base)], [.. g.Select(r => r.Speeds!.Value.Cancelled)])),
        ];
        _bars = [.. _trials.Select(t => new VerdictTable.Bar(t, null))];
        var (workup, trials, stage, replace) = (Live.Workup, _trials, Stage, _replace);
        var verdicts = workup is null || trials.IsEmpty ? ImmutableDictionary<int, Finding>.Empty : await Task.Run(() => RunReadings.Verdicts(workup, Knowledge, trials, stage, replace));
        // A later keystroke may have been judged first.
        _verdicts = asked == _asked ? verdicts : _verdicts;
    }

    private Task TakenAsync(bool taken) => taken && Browser is { } browser
        ? browser.ForgetAsync(Enumerable.Range(0, _rows.Length).SelectMany(i => new[] { Draft(i, _rows[i].Base), Draft(i, _rows[i].Cancelled) }))
        : Task.CompletedTask;

    private ImmutableArray<CylinderMark> Marks() => [.. _rows.Where(r => r.IsComplete).Select(r => new CylinderMark(r.Cylinder, r.DropText, 0, "none")).DistinctBy(m => m.Cylinder)];
}

/// <summary>One turn of a typed run.</summary>
/// <param name="Cylinder">The cylinder.</param>
/// <param name="Base">Speed before.</param>
/// <param name="Cancelled">Lowest speed without it.</param>
public sealed record TypedRow(int Cylinder, CellField Base, CellField Cancelled)
{
    /// <summary>Both speeds, when both are numbers that can be.</summary>
    public (double Base, double Cancelled)? Speeds => Number(Base) is { } before && Number(Cancelled) is { } without ? (before, without) : null;

    /// <summary>True when both speeds are there.</summary>
    public bool IsComplete => Speeds is not null;

    /// <summary>The drop in words, or empty.</summary>
    public string DropText => Speeds is { } s ? Math.Round(s.Base - s.Cancelled, MidpointRounding.AwayFromZero).ToString("0", CultureInfo.InvariantCulture).Replace('-', '−') : "";

    /// <summary>Checks both texts, so that what is wrong with them is said.</summary>
    public void Read()
    {
        Base.Read();
        Cancelled.Read();
    }

    // While it is being typed a number is judged silently; an unlikely one counts once it is kept.
    private static double? Number(CellField field) =>
        field.Doubt is null && NumberText.Read(field.Text) is { IsValid: true, Value: var number } && !(number < field.Field.Min) && !(number > field.Field.Max) ? number : null;
}
