using System.Diagnostics;
using System.Globalization;
using Microsoft.AspNetCore.Components;
using Microsoft.JSInterop;
using ShopDiag.Diagnosis.BenchTests;
using ShopDiag.Diagnosis.Engines;
using ShopDiag.Signals.Waveforms.Csv;
using ShopDiag.Signals.Waveforms.Recognition;
using ShopDiag.Web.Obd;
using ShopDiag.Web.Orders;
using ShopDiag.Web.Waveforms;

namespace ShopDiag.Web.Components.WaveformViews;

/// <summary>The page that reads a waveform into an order.</summary>
public sealed partial class WaveformReader : IAsyncDisposable
{
    /// <summary>What takes longer than this says how far it is.</summary>
    private static readonly TimeSpan Unseen = TimeSpan.FromSeconds(1);

    private static readonly TimeSpan BetweenReports = TimeSpan.FromMilliseconds(300);

    private readonly List<Choice> _choices = [];
    private readonly CancellationTokenSource _gone = new();
    private DotNetObjectReference<WaveformReader>? _self;
    private WaveformBrowser? _browser;
    private WaveformTrace? _trace;
    private ObdTakeOver? _takeOver;
    private Engine? _engine;
    private Guid? _upload;
    private string _name = "";
    private LoadedWaveform? _loaded;
    private WaveformAnalysis? _analysis;
    private WaveformRequest? _request;
    private WaveformKind? _kind;
    private int? _channel;
    private int? _sync;
    private int? _cylinder;
    private string _clamp = "";
    private string _volts = "";
    private string _wheel = "";
    private string _top = "";
    private string _cutFrom = "";
    private string _cutTo = "";
    private string _asks = "";
    private string _rate = "";
    private string _time = "";
    private string _busy = "";
    private string _error = "";
    private string _analysisError = "";
    private string _fieldError = "";
    private string _done = "";
    private bool _asksRate;
    private bool _asksTime;
    private Stage _stage;
    private bool _saving;

    // A file chosen before the browser has its script would be lost without a word.
    private bool _heard;

    /// <summary>The order.</summary>
    [CascadingParameter] public required OrderLive Live { get; set; }

    [Inject] private OrderPageServices With { get; set; } = null!;

    [Inject] private WaveformUploads Uploads { get; set; } = null!;

    [Inject] private IJSRuntime Js { get; set; } = null!;

    [Inject] private ILogger<WaveformReader> Log { get; set; } = null!;

    private bool IsCrank => _analysis?.Kind is WaveformKind.CrankSensor or WaveformKind.ToothTimes || _kind is WaveformKind.CrankSensor or WaveformKind.ToothTimes || _asks is "wheel" or "top";

    private bool IsWinding => _analysis?.Kind is WaveformKind.InjectorCurrent or WaveformKind.CoilCurrent;

    /// <summary>A file was chosen or dropped.</summary>
    [JSInvokable]
    public async Task Chosen(string name, double bytes)
    {
        if (_busy.Length > 0)
        {
            return;
        }

        Forget();
        (_name, _error) = (name.Length > 80 ? name[..80] : name, "");
        if (bytes > WaveformUploads.LargestBytes)
        {
            _error = "The file is larger than 400 MB. Record fewer samples a second, or cut it.";
            StateHasChanged();
            return;
        }

        _busy = "Sending...";
        StateHasChanged();
        var upload = Uploads.Expect();
        _upload = upload;
        _error = await _browser!.SendAsync(WaveformEndpoints.Address(upload));
        _busy = "";
        if (_error.Length == 0)
        {
            await ReadAsync();
        }

        StateHasChanged();
    }

    /// <summary>How much of the file is sent, 0 to 1.</summary>
    [JSInvokable]
    public void Sent(double share)
    {
        if (_busy.Length > 0)
        {
            _busy = $"Sending, {Percent(share)}";
            StateHasChanged();
        }
    }

    /// <summary>A part of the trace was drawn over, as shares of what is shown.</summary>
    [JSInvokable]
    public void Stretch(double from, double to)
    {
        if (from >= 0 && to <= 1 && from < to)
        {
            _trace?.ShowStretch(from, to);
        }
    }

    /// <inheritdoc/>
    public async ValueTask DisposeAsync()
    {
        await _gone.CancelAsync();
        Forget();
        _self?.Dispose();
        if (_browser is not null)
        {
            await _browser.DisposeAsync();
        }

        _gone.Dispose();
    }

    /// <inheritdoc/>
    protected override void OnInitialized() => _takeOver = new ObdTakeOver(Live, With);

    /// <inheritdoc/>
    protected override void OnParametersSet() => _engine = Live.Order.Vehicle.Engine is { } spec && Engine.Create(spec) is { IsValid: true } engine ? engine.Value : null;

    /// <inheritdoc/>
    protected override async Task OnAfterRenderAsync(bool firstRender)
    {
        if (firstRender)
        {
            _self = DotNetObjectReference.Create(this);
            _browser = new WaveformBrowser(Js, Log);
            await _browser.StartAsync();
            await _browser.WatchAsync(_self);
            _heard = true;
            StateHasChanged();
        }
    }

    /// <summary>Reads the file that was sent, with what a person has said about it.</summary>
    private async Task ReadAsync()
    {
        if (_upload is not { } upload || Options() is not { } options)
        {
            return;
        }

        (_loaded, _analysis, _request, _error, _asksRate, _asksTime) = (null, null, null, "", false, false);
        _busy = "Reading...";
        StateHasChanged();
        try
        {
            await Uploads.Reading.WaitAsync(_gone.Token);
            try
            {
                await LoadAsync(upload, options);
            }
            finally
            {
                Uploads.Reading.Release();
            }
        }
        catch (OperationCanceledException)
        {
            // The page went first.
            return;
        }
        catch (IOException e)
        {
            _error = $"The file could not be read: {e.Message}";
        }
        finally
        {
            _busy = "";
        }

        if (_loaded is not null)
        {
            await AnalyseAsync();
        }
    }

    private async Task LoadAsync(Guid upload, WaveformCsvOptions options)
    {
        await using var stream = Uploads.Open(upload);
        if (stream is null)
        {
            _error = "The file is gone. Choose it again.";
            return;
        }

        var (size, token, reports) = (Math.Max(1, stream.Length), _gone.Token, Reports("Reading"));
        var file = await Task.Run(() => WaveformCsv.Read(stream, options, bytes => reports((double)bytes / size), token), token);
        if (file.Error is { } error)
        {
            _error = error.ToString();
            (_asksRate, _asksTime) = (error.At is "rate" or "time", error.At is "rate" or "time");
            return;
        }

        _loaded = await Task.Run(() => LoadedWaveform.Of(_name, file.Value), token);
    }

    /// <summary>Says how far something is, a few times a second and only once it has taken a while.</summary>
    private Action<double> Reports(string what)
    {
        var (start, last) = (Stopwatch.GetTimestamp(), 0L);
        return share =>
        {
            if (Stopwatch.GetElapsedTime(start) > Unseen && (last == 0 || Stopwatch.GetElapsedTime(last) > BetweenReports))
            {
                last = Stopwatch.GetTimestamp();
                _ = InvokeAsync(() =>
                {
                    if (!_gone.IsCancellationRequested && _busy.Length > 0)
                    {
                        _busy = $"{what}, {Percent(share)}";
                        StateHasChanged();
                    }
                });
            }
        };
    }

    /// <summary>Looks at what was read, unless nothing was said that changes the answer. Of several at once the newest counts.</summary>
    private async Task AnalyseAsync()
    {
        _choices.Clear();
        _takeOver!.Begin();
        _done = "";
        if (_loaded is not { } loaded || Request() is not { } request)
        {
            (_analysis, _analysisError, _request) = (null, "", null);
            return;
        }

        if (request != _request)
        {
            (_analysis, _analysisError, _request) = (null, "", request);
            var work = Task.Run(() => WaveformAnalysis.Of(loaded.File, request));
            await SayHowLongAsync(work);
            var analysis = await work;
            if (!ReferenceEquals(loaded, _loaded) || request != _request)
            {
                return;
            }

            _busy = "";
            (_analysis, _analysisError, _asks) = analysis.Error is { } error ? (null, error.Message, error.At) : (analysis.Value, "", "");
        }

        if (_analysis is not null && _engine is not null)
        {
            _choices.AddRange(WaveformOffers.From(_analysis, _engine, _cylinder).Select(o => new Choice(o) { Taken = o.Proposed }));
        }
    }

    /// <summary>Counts the seconds while something runs: how much of a fit is left cannot be known.</summary>
    private async Task SayHowLongAsync(Task work)
    {
        _busy = "Looking at it...";
        for (var seconds = 1; await Task.WhenAny(work, Task.Delay(Unseen)) != work && !_gone.IsCancellationRequested; seconds++)
        {
            _busy = $"Looking at it, {seconds.ToString(CultureInfo.InvariantCulture)} s";
            StateHasChanged();
        }
    }

    private WaveformCsvOptions? Options() =>
        Number(_rate, "Samples a second") is { } rate
            ? new WaveformCsvOptions { SampleRate = rate.Value, TimeUnit = double.TryParse(_time, NumberStyles.Float, CultureInfo.InvariantCulture, out var unit) ? unit : null }
            : null;

    private WaveformRequest? Request()
    {
        _fieldError = "";
        if (Number(_clamp, "The clamp") is not { } clamp || Number(_volts, "Volts") is not { } volts || Number(_top, "Degrees") is not { } top
            || Number(_cutFrom, "Fuel cut from") is not { } cutFrom || Number(_cutTo, "Fuel cut to") is not { } cutTo)
        {
            return null;
        }

        return new WaveformRequest
        {
            Kind = _kind,
            Channel = _channel,
            Cylinders = _engine?.CylinderCount,
            Order = _engine?.FiringOrder ?? [],
            SyncChannel = _sync,
            SyncCylinder = _sync is null ? 1 : _cylinder ?? 1,
            AmpsPerVolt = clamp.Value is { } millivolts and > 0 ? 1000 / millivolts : null,
            EvenFire = _engine?.IsEvenFire ?? true,
            Wheel = _wheel.Trim().Length > 0 ? _wheel.Trim() : null,
            TopAfterGap = top.Value,
            // One of the two is on its way while the other is typed.
            NoFuel = IsCrank && cutFrom.Value is { } from && cutTo.Value is { } to ? (from, to) : null,
            SupplyVolts = volts.Value is > 0 ? volts.Value : null,
        };
    }

    /// <summary>A number as it is typed, also with a comma; none for an empty field; null, and the reason on the page, for anything else.</summary>
    private (double? Value, string Text)? Number(string text, string what)
    {
        if (text.Trim().Length == 0)
        {
            return (null, "");
        }

        if (double.TryParse(text.Trim().Replace(',', '.'), NumberStyles.Float, CultureInfo.InvariantCulture, out var value) && double.IsFinite(value) && value >= 0)
        {
            return (value, text);
        }

        _fieldError = $"{what}: a number, 0 or above.";
        return null;
    }

    private async Task ConfirmAsync()
    {
        _saving = true;
        try
        {
            foreach (var choice in _choices.Where(c => c.Taken && !c.Saved))
            {
                choice.Problem = await _takeOver!.SaveAsync(choice.Offer, _stage);
                choice.Saved = choice.Problem.Length == 0;
            }
        }
        finally
        {
            _saving = false;
        }

        var count = _choices.Count(c => c.Saved);
        _done = count > 0 ? $"{count} of {_choices.Count} entered." : "";
    }

    private void Forget()
    {
        if (_upload is { } upload)
        {
            Uploads.Drop(upload);
        }

        (_upload, _loaded, _analysis, _request, _kind, _channel, _sync, _cylinder) = (null, null, null, null, null, null, null, null);
        (_asksRate, _asksTime, _rate, _time, _done) = (false, false, "", "", "");
        _choices.Clear();
    }

    private static string Percent(double share) => (100 * Math.Clamp(share, 0, 1)).ToString("0", CultureInfo.InvariantCulture) + " %";

    /// <summary>An offer and what the person makes of it.</summary>
    private sealed class Choice(ObdOffer offer)
    {
        public ObdOffer Offer => offer;

        public bool Taken { get; set; }

        public bool Saved { get; set; }

        public string Problem { get; set; } = "";
    }
}
