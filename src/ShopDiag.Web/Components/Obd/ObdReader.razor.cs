using System.Globalization;
using System.Text;
using Microsoft.AspNetCore.Components;
using Microsoft.AspNetCore.Components.Forms;
using ShopDiag.Diagnosis;
using ShopDiag.Diagnosis.BenchTests;
using ShopDiag.Diagnosis.Engines;
using ShopDiag.Obd.Findings;
using ShopDiag.Obd.Logs;
using ShopDiag.Storage.Orders;
using ShopDiag.Storage.Recordings;
using ShopDiag.Web.Obd;
using ShopDiag.Web.Orders;

namespace ShopDiag.Web.Components.ObdViews;

/// <summary>The page that reads OBD messages into an order.</summary>
public sealed partial class ObdReader
{
    /// <summary>Most letters that may be pasted: a message to the program must stay below 32 KB.</summary>
    private const int MostPasted = 20000;

    private readonly List<Choice> _choices = [];
    private ObdTakeOver? _takeOver;
    private Engine? _engine;
    private ObdFindings? _findings;
    private ObdLog? _log;
    private Stage _stage;
    private string _text = "";
    private string _error = "";
    private string _done = "";
    private string _speedProblem = "";
    private bool _saving;

    /// <summary>The order.</summary>
    [CascadingParameter] public required OrderLive Live { get; set; }

    [Inject] private OrderPageServices With { get; set; } = null!;

    [Inject] private RecordingStore Recordings { get; set; } = null!;

    [Inject] private NavigationManager Navigation { get; set; } = null!;

    /// <inheritdoc/>
    protected override void OnInitialized() => _takeOver = new ObdTakeOver(Live, With);

    /// <inheritdoc/>
    protected override void OnParametersSet() => _engine = Live.Order.Vehicle.Engine is { } spec && Engine.Create(spec) is { IsValid: true } engine ? engine.Value : null;

    private async Task ReadFileAsync(InputFileChangeEventArgs chosen)
    {
        if (chosen.File.Size > ObdLog.MostCharacters)
        {
            Show(new InputError("", "The log is larger than 32 MB. Cut out the part that matters."));
            return;
        }

        try
        {
            using var bytes = new MemoryStream();
            await using var file = chosen.File.OpenReadStream(ObdLog.MostCharacters);
            await file.CopyToAsync(bytes);
            bytes.Position = 0;
            using var reader = new StreamReader(bytes, Encoding.UTF8, detectEncodingFromByteOrderMarks: true);

            // A large log takes a second or two: beside the page, not on it.
            Show(await Task.Run(() => ObdLog.Read(reader)));
        }
        catch (IOException e)
        {
            Show(new InputError("", $"The file could not be read: {e.Message}"));
        }
    }

    private async Task ReadTextAsync() => Show(await Task.Run(() => ObdLog.Read(_text)));

    private void Show(Parsed<ObdLog> log)
    {
        _choices.Clear();
        _takeOver!.Begin();
        (_done, _error, _speedProblem) = ("", log.Error?.ToString() ?? "", "");
        (_log, _findings) = log.IsValid ? (log.Value, ObdFindings.From(log.Value)) : (null, null);
        if (_findings is not null)
        {
            _choices.AddRange(ObdOffers.From(_findings, _engine).Select(o => new Choice(o) { Taken = o.Proposed }));
        }
    }

    private async Task ConfirmAsync()
    {
        _saving = true;
        try
        {
            foreach (var choice in _choices.Where(c => c.Taken && !c.Saved))
            {
                choice.Problem = await _takeOver!.SaveAsync(choice.Complete, _stage);
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

    /// <summary>Keeps the speed with the order as a log of a balance run and goes there: the cylinders and their order are said on that page.</summary>
    private async Task TakeSpeedAsync()
    {
        _saving = true;
        var id = Guid.CreateVersion7();
        try
        {
            using var log = new MemoryStream(Encoding.UTF8.GetBytes(ObdOffers.SpeedLog(_findings!)));
            await Recordings.KeepFileAsync(id, RecordingKind.SpeedLog, log);
            var kept = await Recordings.AddAsync(new()
            {
                Id = id, OrderId = Live.Order.Id, Kind = RecordingKind.SpeedLog, By = With.Tablet.By, Stage = _stage, Cylinders = _engine!.CylinderCount, Plan = new(),
                Seconds = _findings!.Speed[^1].Seconds - _findings.Speed[0].Seconds, Finished = true,
            });
            _speedProblem = kept.Outcome == SaveOutcome.Refused ? kept.Message : "";
        }
        catch (IOException)
        {
            _speedProblem = "It could not be kept: the server cannot write the file. Is its disk full?";
        }
        finally
        {
            _saving = false;
        }

        if (_speedProblem.Length == 0)
        {
            Navigation.NavigateTo($"/orders/{Live.Order.Number}/balance-run?show={id}");
        }
        else
        {
            Recordings.DropFile(id, RecordingKind.SpeedLog);
        }
    }

    private static string Seconds(ObdFindings findings) => (findings.Speed[^1].Seconds - findings.Speed[0].Seconds).ToString("0", CultureInfo.InvariantCulture);

    private static string SpeedLink(ObdFindings findings) => "data:text/csv;charset=utf-8," + Uri.EscapeDataString(ObdOffers.SpeedLog(findings));

    /// <summary>An offer and what the person makes of it.</summary>
    private sealed class Choice(ObdOffer offer)
    {
        public ObdOffer Offer => offer;

        public bool Taken { get; set; }

        public bool Saved { get; set; }

        public string Revolutions { get; set; } = "";

        public string Problem { get; set; } = "";

        public ObdOffer Complete =>
            offer.NeedsRevolutions && double.TryParse(Revolutions, NumberStyles.None, CultureInfo.InvariantCulture, out var revolutions) ? offer.WithRevolutions(revolutions) : offer;
    }
}
