using System.CommandLine;
using System.CommandLine.Parsing;
using System.Text;
using ShopDiag.Diagnosis.Wire;
using ShopDiag.Obd.Findings;
using ShopDiag.Obd.Live;
using ShopDiag.Obd.Logs;
using ShopDiag.Obd.Messages;
using ShopDiag.Obd.Wire;
using ShopDiag.Web.Obd;

namespace ShopDiag.Web.Verbs;

/// <summary><c>decode FILE</c>: captured OBD messages, a decoded record a line, and what they come to in the last line.</summary>
internal static class DecodeVerb
{
    private const int BadInput = 1;

    public static Command Create()
    {
        var file = new Argument<string?>("FILE") { Description = "Captured OBD messages: text of candump, or lines of hexadecimal bytes.", Arity = ArgumentArity.ZeroOrOne };
        var live = new Option<string?>("--interface") { Description = "Instead of a file: ask the car over this CAN interface of Linux, such as can0. Reads only, clears nothing." };
        var seconds = new Option<int>("--seconds") { Description = "With --interface: how long to follow engine speed and trims, 0 to 3600.", DefaultValueFactory = _ => 0 };
        var command = new Command("decode", "Decode captured OBD messages: one JSON record a line, and a summary in the last line.") { file, live, seconds };
        command.Validators.Add(result => Check(result, file, live, seconds));
        command.SetAction(async (parsed, cancel) =>
        {
            if (parsed.GetValue(live) is { } name)
            {
                await using var link = SocketCanLink.Open(name);
                return await AskAsync(link, TimeSpan.FromSeconds(parsed.GetValue(seconds)), TimeProvider.System, Console.Out, Console.Error, cancel);
            }

            using var reader = new StreamReader(parsed.GetValue(file)!, Encoding.UTF8, detectEncodingFromByteOrderMarks: true);
            return await RunAsync(reader, Console.Out, Console.Error);
        });
        return command;
    }

    /// <summary>Asks a car over a link and writes what it says, as for a file. Exit code 1 when nobody answers.</summary>
    public static async Task<int> AskAsync(IObdLink link, TimeSpan follow, TimeProvider time, TextWriter output, TextWriter errors, CancellationToken cancel = default)
    {
        var tester = new ObdTester(link, time);
        if (!await tester.ReadAllAsync(cancel))
        {
            await errors.WriteLineAsync("No control unit answers. Is the ignition on, and does the interface run at the car's rate (500 or 250 kbit/s)?");
            return BadInput;
        }

        await tester.FollowAsync(follow, cancel);
        return await WriteAsync(tester.Log(), output, errors);
    }

    private static void Check(CommandResult result, Argument<string?> file, Option<string?> live, Option<int> seconds)
    {
        int time;
        try
        {
            time = result.GetValue(seconds);
        }
        catch (InvalidOperationException)
        {
            // No number: the option itself says so.
            return;
        }

        if (result.GetValue(file) is null == result.GetValue(live) is null)
        {
            result.AddError("Give a FILE or an --interface, one of the two.");
        }
        else if (time is < 0 or > 3600)
        {
            result.AddError("--seconds: from 0 to 3600.");
        }
    }

    /// <summary>
    /// Exit code 0 when everything was read; 1 when a line, a frame or a message could not be: the others were, and standard error says which and why.
    /// </summary>
    public static async Task<int> RunAsync(TextReader input, TextWriter output, TextWriter errors)
    {
        var read = ObdLog.Read(input);
        if (read.Error is { } error)
        {
            await errors.WriteLineAsync(error.ToString());
            await output.WriteAsync(JsonLine.Of(error) + "\n");
            return BadInput;
        }

        return await WriteAsync(read.Value, output, errors);
    }

    /// <summary>A line a record, then a line a problem, and what they come to in the last line.</summary>
    public static IEnumerable<string> Lines(ObdLog log) => log.Records.Select(ObdJson.Write).Concat(log.Problems.Select(ObdJson.Write)).Append(ObdJson.Write(ObdFindings.From(log), log));

    private static async Task<int> WriteAsync(ObdLog log, TextWriter output, TextWriter errors)
    {
        foreach (var line in Lines(log))
        {
            await output.WriteAsync(line + "\n");
        }

        await output.FlushAsync();
        foreach (var record in log.Records)
        {
            foreach (var remark in record.Remarks)
            {
                await errors.WriteLineAsync($"line {record.Message.Line}: {remark}");
            }
        }

        foreach (var problem in log.Problems)
        {
            await errors.WriteLineAsync(problem.ToString());
        }

        if (log.MoreProblems > 0)
        {
            await errors.WriteLineAsync($"And {log.MoreProblems} more like these.");
        }

        return log.Problems.IsEmpty && !log.Records.Any(r => r is UnreadRecord) ? 0 : BadInput;
    }
}
