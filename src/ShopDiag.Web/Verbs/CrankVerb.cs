using System.Collections.Immutable;
using System.CommandLine;
using System.CommandLine.Parsing;
using System.Globalization;
using ShopDiag.Diagnosis;
using ShopDiag.Signals.Waveforms.Csv;
using ShopDiag.Signals.Waveforms.Recognition;
using ShopDiag.Signals.Wire;

namespace ShopDiag.Web.Verbs;

/// <summary><c>crank FILE --cylinders N --order 1,3,4,2</c>: a value a cylinder from an oscilloscope's recording, and what an injector's or a coil's current comes to.</summary>
internal sealed class CrankVerb : FileVerb
{
    private readonly Option<int?> _cylinders = new("--cylinders") { Description = "Number of cylinders." };
    private readonly Option<string?> _order = new("--order") { Description = "Firing order, such as 1,3,4,2." };
    private readonly Option<string?> _kind = new("--kind") { Description = "What it shows; otherwise found out." };
    private readonly Option<int?> _channel = new("--channel") { Description = "The channel that shows it, from 1 on; otherwise found out." };
    private readonly Option<int?> _syncChannel = new("--sync-channel") { Description = "The channel with the ignition or injection of a known cylinder, from 1 on." };
    private readonly Option<int?> _syncCylinder = new("--sync-cylinder") { Description = "The cylinder of the sync channel; otherwise 1." };
    private readonly Option<double?> _syncDegrees = new("--sync-degrees") { Description = "Degrees of crank from the sync's pulse to top dead centre of its cylinder; otherwise 5." };
    private readonly Option<string?> _wheel = new("--wheel") { Description = "Wheel of a crank sensor, such as 60-2 or 36; otherwise found by its gaps." };
    private readonly Option<double?> _top = new("--top") { Description = "Degrees from the first tooth after the gap to top dead centre of the first cylinder in the order." };
    private readonly Option<string?> _noFuel = new("--no-fuel") { Description = "Seconds of the recording, such as 12-14.5, in which it rolls down with the fuel cut: the wheel's own errors are learnt there." };
    private readonly Option<double?> _ampsPerVolt = new("--amps-per-volt") { Description = "Of the current clamp, where the channel is in volts: 10 for 100 mV/A." };
    private readonly Option<double?> _volts = new("--volts") { Description = "Volts at the injector's or coil's feed, for resistance and inductance." };
    private readonly Option<double?> _rate = new("--rate") { Description = "Samples a second, where the file has no times." };
    private readonly Option<string?> _time = new("--time") { Description = "Unit of the time column: s, ms or us; otherwise found out." };

    public override string Name => "crank";

    public static Command Create() => new CrankVerb().Build(new("FILE") { Description = "Samples of an oscilloscope as text (CSV), or the times of teeth." });

    public override Parsed<string[]> Lines(CommandResult asked, Stream file, CancellationToken cancel)
    {
        var read = WaveformCsv.Read(file, new() { SampleRate = asked.GetValue(_rate), TimeUnit = Unit(asked.GetValue(_time)) }, cancellation: cancel);
        if (read.Error is { } unreadable)
        {
            return unreadable;
        }

        var analysis = WaveformAnalysis.Of(read.Value, Request(asked).Value);
        return analysis.Error is { } error ? error : WaveformJson.Lines(read.Value, analysis.Value).ToArray();
    }

    protected override Command Command(Argument<string> file)
    {
        _kind.AcceptOnlyFromAmong([.. Enum.GetValues<WaveformKind>().Select(WaveformJson.Word)]);
        _time.AcceptOnlyFromAmong("s", "ms", "us");
        var command = new Command(Name, "Compare the cylinders by an oscilloscope's recording of cranking current or crank teeth, or look at an injector's or a coil's current; JSON, a document a line.")
        {
            file, _cylinders, _order, _kind, _channel, _syncChannel, _syncCylinder, _syncDegrees, _wheel, _top, _noFuel, _ampsPerVolt, _volts, _rate, _time,
        };
        command.Validators.Add(result =>
        {
            try
            {
                if (Request(result).Error is { } error)
                {
                    result.AddError($"--{error.At}: {error.Message}");
                }
            }
            catch (InvalidOperationException)
            {
                // No number: the option itself says so.
            }
        });
        return command;
    }

    private Parsed<WaveformRequest> Request(SymbolResult result)
    {
        var order = ImmutableArray.CreateBuilder<int>();
        foreach (var part in result.GetValue(_order)?.Split(',') ?? [])
        {
            if (!int.TryParse(part, NumberStyles.AllowLeadingWhite | NumberStyles.AllowTrailingWhite, CultureInfo.InvariantCulture, out var cylinder))
            {
                return new InputError("order", "Cylinder numbers separated by commas.");
            }

            order.Add(cylinder);
        }

        if (!TryStretch(result.GetValue(_noFuel), out var noFuel))
        {
            return new InputError("no-fuel", "Seconds from and to, such as 12-14.5.");
        }

        var unsaid = new WaveformRequest();
        var request = unsaid with
        {
            Kind = WaveformJson.Kind(result.GetValue(_kind)),
            Channel = result.GetValue(_channel),
            Cylinders = result.GetValue(_cylinders) ?? (order.Count > 0 ? order.Count : null),
            Order = order.ToImmutable(),
            SyncChannel = result.GetValue(_syncChannel),
            SyncCylinder = result.GetValue(_syncCylinder) ?? unsaid.SyncCylinder,
            SyncDegreesBefore = result.GetValue(_syncDegrees) ?? unsaid.SyncDegreesBefore,
            Wheel = result.GetValue(_wheel),
            TopAfterGap = result.GetValue(_top),
            NoFuel = noFuel,
            AmpsPerVolt = result.GetValue(_ampsPerVolt),
            SupplyVolts = result.GetValue(_volts),
        };
        return request.Problem() is { } problem ? problem : request;
    }

    private static bool TryStretch(string? text, out (double, double)? stretch)
    {
        stretch = null;
        if (text is null)
        {
            return true;
        }

        var ends = text.Split('-').Select(t => double.TryParse(t, NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out var seconds) ? seconds : double.NaN).ToArray();
        stretch = ends is [var from, var to] ? (from, to) : null;
        return stretch is not null && ends.All(double.IsFinite);
    }

    private static double? Unit(string? time) => time switch
    {
        null => null,
        "s" => 1,
        "ms" => 1e-3,
        "us" => 1e-6,
        _ => throw new InvalidOperationException($"Unknown unit {time}."),
    };
}
