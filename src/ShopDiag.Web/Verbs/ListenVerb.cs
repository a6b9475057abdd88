using System.Collections.Immutable;
using System.CommandLine;
using System.CommandLine.Parsing;
using System.Globalization;
using ShopDiag.Diagnosis;
using ShopDiag.Signals;
using ShopDiag.Signals.Cancellations;
using ShopDiag.Signals.Speed;
using ShopDiag.Signals.SpeedLogs;
using ShopDiag.Signals.Wire;

namespace ShopDiag.Web.Verbs;

/// <summary><c>listen FILE --cylinders N</c>: engine speed over time and the cancelled cylinders in it, from sound or from a log.</summary>
internal sealed class ListenVerb : FileVerb
{
    private readonly Option<int> _cylinders = new("--cylinders") { Description = "Number of cylinders, 3 to 12.", Required = true };
    private readonly Option<double?> _idle = new("--idle") { Description = "Engine speed in rpm, to within a fifth. Without it the speed is searched for." };
    private readonly Option<string?> _order = new("--order") { Description = "Cylinders in the order in which they were cancelled, such as 1,3,4,2." };
    private readonly Option<string?> _time = new("--time") { Description = "Unit of the log's time: s, ms or us; otherwise found out." };
    private readonly Option<int?> _column = new("--column") { Description = "Column of the log that is the speed, from 1 on; otherwise found out." };

    public override string Name => "listen";

    public static Command Create() => new ListenVerb().Build(new("FILE") { Description = "Sound of the engine (WAV), or a speed log (CSV)." });

    public override Parsed<string[]> Lines(CommandResult asked, Stream file, CancellationToken cancel)
    {
        var engine = EngineToHear.Create(asked.GetValue(_cylinders), asked.GetValue(_idle)).Value;
        var trace = Recording.Read(file, engine, new() { Time = Unit(asked.GetValue(_time)), SpeedColumn = asked.GetValue(_column) });
        if (trace.Error is { } error)
        {
            return error;
        }

        var run = CancellationFinder.Find(trace.Value, new() { Cylinders = engine.Cylinders, Order = Cylinders(asked.GetValue(_order))!.Value });
        return new[] { BalanceRunJson.Write(trace.Value, run) };
    }

    protected override Command Command(Argument<string> file)
    {
        _time.AcceptOnlyFromAmong("s", "ms", "us");
        var command = new Command(Name, "Follow the engine speed in a recording and find the cancelled cylinders; one JSON document on standard output.")
        {
            file, _cylinders, _idle, _order, _time, _column,
        };
        command.Validators.Add(Check);
        return command;
    }

    private void Check(CommandResult result)
    {
        int count;
        double? rough;
        try
        {
            (count, rough) = (result.GetValue(_cylinders), result.GetValue(_idle));
        }
        catch (InvalidOperationException)
        {
            // No number: the option itself says so.
            return;
        }

        if (EngineToHear.Create(count, rough).Error is { } error)
        {
            result.AddError($"--{error.At}: {error.Message}");
        }
        else if (Cylinders(result.GetValue(_order)) is not { } listed || listed.Any(c => c < 1 || c > count))
        {
            result.AddError($"--order: cylinder numbers from 1 to {count}, separated by commas.");
        }
    }

    /// <summary>The numbers; none for null; null for what are no numbers.</summary>
    private static ImmutableArray<int>? Cylinders(string? order)
    {
        var numbers = ImmutableArray.CreateBuilder<int>();
        foreach (var part in order?.Split(',') ?? [])
        {
            if (!int.TryParse(part, NumberStyles.AllowLeadingWhite | NumberStyles.AllowTrailingWhite, CultureInfo.InvariantCulture, out var number))
            {
                return null;
            }

            numbers.Add(number);
        }

        return numbers.ToImmutable();
    }

    private static LogTime? Unit(string? time) => time switch
    {
        null => null,
        "s" => LogTime.Seconds,
        "ms" => LogTime.Milliseconds,
        "us" => LogTime.Microseconds,
        _ => throw new InvalidOperationException($"Unknown unit {time}."),
    };
}
