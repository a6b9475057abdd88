using ShopDiag.Comebacks.Repairs;
using ShopDiag.Diagnosis;
using ShopDiag.Diagnosis.Engines;
using ShopDiag.Diagnosis.Learning;
using ShopDiag.Diagnosis.Workups;
using ShopDiag.Storage.Learning;
using ShopDiag.Storage.Orders;
using ShopDiag.Storage.Shop;
using ShopDiag.Storage.Writing;
using ShopDiag.Web.Saving;
using ShopDiag.Web.Shop;

namespace ShopDiag.Web.Orders;

/// <summary>
/// One order on one open page: the newest state of it, what it adds up to, and every way to change it. Follows changes made
/// on other tablets. <c>OrderFrame</c> makes it and hands it down to the components of the page.
/// </summary>
public sealed class OrderLive : IDisposable
{
    private readonly OrderPageServices _with;
    private readonly IDisposable _subscription;
    private readonly ShopPriors _priors;
    private (RepairOrder Order, Assessment? Assessment) _assessed;
    private readonly SemaphoreSlim _engine = new(1);
    private bool _reloading;
    private int _changes;

    private OrderLive(OrderPageServices with, RepairOrder order, ShopSettings settings, ShopPriors priors, Func<Func<Task>, Task> dispatch)
    {
        (_with, Order, Settings, _priors, Clock) = (with, order, settings, priors, new ShopClock(with.Time, settings));
        _subscription = with.Bus.Subscribe(order.Id, id =>
        {
            Interlocked.Increment(ref _changes);
            _ = dispatch(ReloadAsync);
        });
    }

    /// <summary>Raised on the page's dispatcher when the order has changed.</summary>
    public event Action? Changed;

    /// <summary>The order as last read. Replaced, never changed.</summary>
    public RepairOrder Order { get; private set; }

    /// <summary>The shop's settings.</summary>
    public ShopSettings Settings { get; }

    /// <summary>Says times.</summary>
    public ShopClock Clock { get; }

    /// <summary>What the shop's own cases say of the order's engine; null while they say nothing (see <see cref="ShopPriors.For"/>).</summary>
    public LearnedPriors? Priors => _priors.For(Order.Vehicle.Engine);

    /// <summary>The order's workup as the reasoning sees it, with this shop's tools, height and priors; null while no engine is chosen.</summary>
    public Workup? Workup => Order.ToWorkup(_priors.Setup(Order.Vehicle.Engine));

    /// <summary>What the readings add up to; null while no engine is chosen.</summary>
    public Assessment? Assessment
    {
        get
        {
            if (!ReferenceEquals(_assessed.Order, Order))
            {
                _assessed = (Order, Workup is { } workup ? Diagnostician.Assess(workup, _with.Knowledge) : null);
            }

            return _assessed.Assessment;
        }
    }

    /// <summary>Opens the order with a number; null when there is none.</summary>
    /// <param name="with">What it works with.</param>
    /// <param name="number">The number on paper.</param>
    /// <param name="dispatch">Runs work on the page's dispatcher.</param>
    public static async Task<OrderLive?> OpenAsync(OrderPageServices with, int number, Func<Func<Task>, Task> dispatch)
    {
        ArgumentNullException.ThrowIfNull(with);
        var settings = await with.Shops.GetAsync() ?? new ShopSettings();
        if (await with.Orders.GetByNumberAsync(number) is not { } order)
        {
            return null;
        }

        var priors = await ShopPriors.ReadAsync(with.Cases, settings, with.Knowledge, order.Id);
        var live = new OrderLive(with, order, settings, priors, dispatch);
        // Something may have changed between reading and listening.
        await live.ReloadAsync();
        return live;
    }

    /// <summary>The text on the screen for a field.</summary>
    public string Text(OrderField field) => Codec(field).ToScreen(Order.FieldText(field));

    /// <summary>Saves what was entered in a field.</summary>
    public Task<SaveResult> SaveFieldAsync(OrderField field, FieldEntry entry)
    {
        ArgumentNullException.ThrowIfNull(entry);
        // The screen may show less than the store keeps (a promise without its seconds): what is shown stands for what is kept.
        var kept = Order.FieldText(field);
        var isKept = entry.Base == Codec(field).ToScreen(kept);
        return Codec(field).SaveAsync(entry.Value, entry.Base, (value, before) =>
            _with.Orders.SetFieldAsync(Order.Id, field, value, isKept ? kept : before, entry.Id, _with.Tablet.By));
    }

    /// <summary>Moves the order to a stage; a step back needs a reason.</summary>
    public Task<SaveResult> MoveAsync(OrderStage stage, string reason) =>
        RunAsync(OrderServices.Move, new MoveOrder(Order.Id, stage, _with.Tablet.By, reason));

    /// <summary>Puts an engine on the vehicle.</summary>
    public Task<SaveResult> ChooseEngineAsync(EngineSpec engine, string title) =>
        RunAsync(OrderServices.Engine, new ChooseEngine(Order.Id, engine, title, _with.Tablet.By));

    /// <summary>
    /// Changes one thing about the vehicle's engine, on the newest state of it: two fields saved within a breath must not undo each other.
    /// The change may answer an error, which is handed back; so is a missing engine.
    /// </summary>
    public async Task<Parsed<SaveResult>> ChangeEngineAsync(Func<EngineSpec, Parsed<EngineSpec>> change)
    {
        ArgumentNullException.ThrowIfNull(change);
        await _engine.WaitAsync();
        try
        {
            var vehicle = (await _with.Orders.GetAsync(Order.Id) ?? Order).Vehicle;
            if (vehicle.Engine is not { } spec)
            {
                return new InputError("", "No engine is chosen.");
            }

            var changed = change(spec);
            return changed.IsValid ? await ChooseEngineAsync(changed.Value, vehicle.EngineTitle) : changed.Error!;
        }
        finally
        {
            _engine.Release();
        }
    }

    /// <summary>Puts a known vehicle and its customer on the order.</summary>
    public Task<SaveResult> UseVehicleAsync(Guid vehicle) => RunAsync(OrderServices.Vehicle, new UseVehicle(Order.Id, vehicle));

    /// <summary>Says whether the order is a comeback of an earlier one.</summary>
    public Task<SaveResult> AnswerComebackAsync(Guid? earlier, ComebackAnswer answer) =>
        RunAsync(OrderServices.Comeback, new AnswerComeback(Order.Id, earlier, answer, _with.Tablet.By));

    /// <summary>Runs a journalled command with a new id (see <see cref="CommandJournal"/>).</summary>
    public Task<SaveResult> RunAsync<T>(string kind, T command) => _with.Commands.RunAsync(kind, Guid.NewGuid(), CommandJson.Write(command));

    /// <inheritdoc/>
    public void Dispose()
    {
        _subscription.Dispose();
        _engine.Dispose();
    }

    private FieldCodec Codec(OrderField field) => FieldCodec.Of(field, Settings.Currency, Clock.Zone);

    // Reads until nothing changed while reading, so that an older state never comes after a newer one.
    private async Task ReloadAsync()
    {
        if (_reloading)
        {
            return;
        }

        _reloading = true;
        try
        {
            int seen;
            do
            {
                seen = Volatile.Read(ref _changes);
                Order = await _with.Orders.GetAsync(Order.Id) ?? Order;
            }
            while (seen != Volatile.Read(ref _changes));
        }
        finally
        {
            _reloading = false;
        }

        Changed?.Invoke();
    }
}

/// <summary>What the order pages work with.</summary>
public sealed record OrderPageServices(
    OrderStore Orders, ShopStore Shops, CaseStore Cases, ChangeBus Bus, Knowledge Knowledge, Tablet Tablet, CommandJournal Commands, TimeProvider Time);
