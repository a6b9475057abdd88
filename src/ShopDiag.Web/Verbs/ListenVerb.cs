using System.Collections.Immutable;
using System.CommandLine;
using System.CommandLine.Parsing;
using System.Globalization;
using ShopDiag.Diagnosis.Wire;
using ShopDiag.Signals;
using ShopDiag.Signals.Cancellations;
using ShopDiag.Signals.Speed;
using ShopDiag.Signals.SpeedLogs;
using ShopDiag.Signals.Wire;

namespace ShopDiag.Web.Verbs;

/// <summary><c>listen FILE --cylinders N</c>: engine speed over time and the cancelled cylinders in it, from sound or from a log.</summary>
internal static class ListenVerb
{
    private const int BadInput = 1;

    public static Command Create()
    {
        var file = new Argument<string>("FILE") { Description = "Sound of the engine (WAV), or a speed log (CSV)." };
        var cylinders = new Option<int>("--cylinders") { Description = "Number of cylinders, 3 to 12.", Required = true };
        var idle = new Option<double?>("--idle") { Description = "Engine speed in rpm, to within a fifth. Without it the speed is searched for." };
        var order = new Option<string?>("--order") { Description = "Cylinders in the order in which they were cancelled, such as 1,3,4,2." };
        var time = new Option<string?>("--time") { Description = "Unit of the log's time: s, ms or us; otherwise found out." };
        time.AcceptOnlyFromAmong("s", "ms", "us");
        var column = new Option<int?>("--column") { Description = "Column of the log that is the speed, from 1 on; otherwise found out." };
        var command = new Command("listen", "Follow the engine speed in a recording and find the cancelled cylinders; one JSON document on standard output.")
        {
            file, cylinders, idle, order, time, column,
        };
        command.Validators.Add(result => Check(result, cylinders, idle, order));
        command.SetAction((parsed, _) =>
        {
            using var stream = File.OpenRead(parsed.GetRequiredValue(file));
            var engine = EngineToHear.Create(parsed.GetValue(cylinders), parsed.GetValue(idle)).Value;
            var options = new SpeedLogOptions { Time = Unit(parsed.GetValue(time)), SpeedColumn = parsed.GetValue(column) };
            return RunAsync(stream, engine, Cylinders(parsed.GetValue(order))!.Value, options, Console.Out, Console.Error);
        });
        return command;
    }

    private static async Task<int> RunAsync(Stream stream, EngineToHear engine, ImmutableArray<int> order, SpeedLogOptions options, TextWriter output, TextWriter errors)
    {
        var trace = Recording.Read(stream, engine, options);
        if (trace.Error is { } error)
        {
            await errors.WriteLineAsync(error.ToString());
            await output.WriteAsync(JsonLine.Of(error) + "\n");
            return BadInput;
        }

        var run = CancellationFinder.Find(trace.Value, new() { Cylinders = engine.Cylinders, Order = order });
        await output.WriteAsync(BalanceRunJson.Write(trace.Value, run) + "\n");
        return 0;
    }

    private static void Check(CommandResult result, Option<int> cylinders, Option<double?> idle, Option<string?> order)
    {
        int count;
        double? rough;
        try
        {
            (count, rough) = (result.GetValue(cylinders), result.GetValue(idle));
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
        else if (Cylinders(result.GetValue(order)) is not { } listed || listed.Any(c => c < 1 || c > count))
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
