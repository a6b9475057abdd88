using System.Collections.Immutable;
using ShopDiag.Diagnosis;
using ShopDiag.Diagnosis.BenchTests;
using ShopDiag.Diagnosis.Workups;
using ShopDiag.Storage.Orders;
using ShopDiag.Web.Orders;

namespace ShopDiag.Web.Components.WorkupViews;

/// <summary>A save that can be undone, for the line that says so.</summary>
/// <param name="Id">Its key.</param>
/// <param name="Words">What was saved where, in words.</param>
/// <param name="IsObstacle">True for a test that cannot be taken, false for a reading.</param>
public sealed record LastSave(Guid Id, string Words, bool IsObstacle = false);

/// <summary>
/// The workup of an order on one open page: its newest view, and every way to change it. Lives on the page's dispatcher;
/// only the reasoning runs beside it.
/// </summary>
public sealed class WorkupSession : IDisposable
{
    // Several changes within a breath are shown together.
    private static readonly TimeSpan Breath = TimeSpan.FromMilliseconds(250);

    private readonly OrderLive _live;
    private readonly OrderPageServices _with;
    private readonly Assessments _assessments;
    private Stage? _stage;
    private bool _making;
    private bool _again;
    private bool _gone;

    /// <summary>Follows the order.</summary>
    public WorkupSession(OrderLive live, OrderPageServices with, Assessments assessments)
    {
        ArgumentNullException.ThrowIfNull(live);
        (_live, _with, _assessments) = (live, with, assessments);
        _live.Changed += OnChanged;
    }

    /// <summary>Raised after <see cref="View"/> has changed.</summary>
    public event Action? Changed;

    /// <summary>The page, or null while the engine is not chosen.</summary>
    public WorkupView? View { get; private set; }

    /// <summary>The cells that the last change touched.</summary>
    public ImmutableHashSet<CellKey> Fresh { get; private set; } = [];

    /// <summary>Counts the versions shown.</summary>
    public int Version { get; private set; }

    /// <summary>What was saved here last, for undo; null when there is none to undo.</summary>
    public LastSave? Last { get; private set; }

    private Guid Order => _live.Order.Id;

    /// <inheritdoc/>
    public void Dispose()
    {
        _gone = true;
        _live.Changed -= OnChanged;
    }

    /// <summary>Makes the view from the order as it stands now.</summary>
    public async Task RefreshAsync()
    {
        if (_making)
        {
            _again = true;
            return;
        }

        _making = true;
        try
        {
            await MakeAsync();
            while (_again && !_gone)
            {
                _again = false;
                await Task.Delay(Breath, _with.Time);
                await MakeAsync();
            }
        }
        finally
        {
            _making = false;
        }
    }

    /// <summary>Shows the readings of another stage.</summary>
    public Task ShowStageAsync(Stage stage)
    {
        _stage = stage;
        return RefreshAsync();
    }

    /// <summary>True when a reading counts in the cell, by the newest state of the order.</summary>
    public bool IsFilled(CellKey cell) => CellHistory.CountingOn(_live.Order)
        .Any(r => r.Reading.Test == cell.Test && r.Reading.At == cell.At && r.Reading.Stage == cell.Stage);

    /// <summary>True when it is said that there can be no reading just there; said of the whole car it does not count, for the first reading ends it everywhere.</summary>
    public bool IsBarred(CellKey cell) => _live.Order.Obstacles.Any(o => o.Stands && o.Obstacle.Test == cell.Test && o.Obstacle.At == cell.At);

    /// <summary>True when it is said that the test of the cell cannot be taken there.</summary>
    public bool IsBlocked(CellKey cell) => _with.Knowledge.Test(cell.Test) is { } test && ObstacleView.Standing(_live.Order, test, cell.At).Any();

    /// <summary>What is said to keep the test of a cell from being taken.</summary>
    public ImmutableArray<ObstacleView> Obstacles(CellKey cell) => ObstacleView.Of(_live.Order, _with.Knowledge.Test(cell.Test)!, cell.At, _live.Clock);

    /// <summary>What was read in a cell.</summary>
    public CellHistory History(CellKey cell) => CellHistory.Of(
        cell, _live.Order, _with.Knowledge.Test(cell.Test)!, View?.Assessment, ShopUnits.Of(_live.Settings), _live.Clock);

    /// <summary>
    /// Saves a reading through the tablet's journal. The id is made before the first try, so a repetition is harmless;
    /// <paramref name="journalled"/> is called once the tablet holds the reading.
    /// </summary>
    public async Task<SaveResult> SaveAsync(Reading reading, Guid? supersedes, Func<Task>? journalled = null)
    {
        ArgumentNullException.ThrowIfNull(reading);
        var added = New(reading, supersedes, withdrawn: false);
        var result = await RunAsync(added, journalled);
        if (IsSaved(result))
        {
            var test = _with.Knowledge.Test(reading.Test)!;
            Last = new(added.Id, $"{test.Title}, {reading.At}: {ReadingText.InFull(reading, test, ShopUnits.Of(_live.Settings))}");
        }

        return result;
    }

    /// <summary>Takes a reading back. It stays on record.</summary>
    public async Task<SaveResult> TakeBackAsync(Guid reading)
    {
        // What was saved a moment ago may not have come back from the store yet.
        var kept = _live.Order.Readings.FirstOrDefault(r => r.Id == reading)
            ?? (await _with.Orders.GetAsync(Order))?.Readings.FirstOrDefault(r => r.Id == reading);
        if (kept is null)
        {
            return new(SaveOutcome.Refused, "", "This reading is not on the order.");
        }

        var result = await RunAsync(New(kept.Reading with { Note = null }, reading, withdrawn: true), null);
        Last = IsSaved(result) && Last?.Id == reading ? null : Last;
        return result;
    }

    /// <summary>Says through the tablet's journal that a test cannot be taken; <paramref name="journalled"/> is called once the tablet holds it.</summary>
    public async Task<SaveResult> SayAsync(string test, ObstacleSaid said, Func<Task> journalled)
    {
        ArgumentNullException.ThrowIfNull(said);
        ArgumentNullException.ThrowIfNull(journalled);
        var id = Guid.CreateVersion7();
        var command = new SaveObstacle(Order, test, PlaceWords.Key(said.At), said.Why, _with.Tablet.By);
        var result = await _with.Commands.RunAsync(SaveObstacle.Kind, id, CommandJson.Write(command), async () =>
        {
            await journalled();
            return await _with.Orders.AddObstacleAsync(Order, command.ToObstacle(id));
        });
        if (IsSaved(result))
        {
            Last = new(id, $"{ObstacleView.Name(_with.Knowledge.Test(test)!, said.At)}: {ObstacleView.Word}{(said.At == Place.Engine ? " on this car" : "")}", IsObstacle: true);
        }

        return result;
    }

    /// <summary>Says that a test can be taken after all. What was said before stays on record.</summary>
    public async Task<SaveResult> EndObstacleAsync(Guid obstacle)
    {
        var result = await _with.Commands.RunAsync(EndObstacle.Kind, Guid.CreateVersion7(), CommandJson.Write(new EndObstacle(Order, obstacle, _with.Tablet.By)));
        Last = IsSaved(result) && Last?.Id == obstacle ? null : Last;
        return result;
    }

    /// <summary>Takes over a finding; a reason stands for the proof that is missing.</summary>
    public Task<SaveResult> TakeFindingAsync(Conclusion conclusion, double probability, string? unprovenReason) => _with.Orders.SetFindingAsync(
        Order,
        new OrderFinding { Conclusion = conclusion, Probability = probability, UnprovenReason = unprovenReason, At = _live.Clock.UtcNow, By = _with.Tablet.By },
        Guid.CreateVersion7());

    /// <summary>Takes the finding back.</summary>
    public Task<SaveResult> TakeFindingBackAsync() => _with.Orders.SetFindingAsync(Order, null, Guid.CreateVersion7());

    /// <summary>Ends the offer to undo the last reading: something else was done since.</summary>
    public void ForgetLast() => Last = null;

    /// <summary>True when what was to be saved is saved.</summary>
    public static bool IsSaved(SaveResult result)
    {
        ArgumentNullException.ThrowIfNull(result);
        return result.Outcome is SaveOutcome.Saved or SaveOutcome.AlreadySaved;
    }

    private void OnChanged() => _ = RefreshAsync();

    private async Task MakeAsync()
    {
        var order = _live.Order;
        var workup = _live.Workup;
        var view = workup is null ? null : WorkupView.Of(
            order, workup.Engine, await _assessments.OfAsync(order, workup), _with.Knowledge, _live.Settings, _live.Clock, _stage, _live.Priors);
        if (_gone)
        {
            return;
        }

        (Fresh, View) = (SheetChanges.Between(View, view), view);
        Version++;
        Changed?.Invoke();
    }

    private NewReading New(Reading reading, Guid? supersedes, bool withdrawn) => new()
    {
        Id = Guid.CreateVersion7(),
        Reading = reading with { TakenAt = _with.Time.GetUtcNow(), By = _with.Tablet.By.Length > 0 ? _with.Tablet.By : null },
        SupersedesId = supersedes,
        Withdrawn = withdrawn,
    };

    private Task<SaveResult> RunAsync(NewReading added, Func<Task>? journalled) => _with.Commands.RunAsync(
        SaveReading.Kind, added.Id, CommandJson.Write(SaveReading.Of(Order, added)), async () =>
        {
            if (journalled is not null)
            {
                await journalled();
            }

            return await _with.Orders.AddReadingAsync(Order, added);
        });
}
