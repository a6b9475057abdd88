using System.CommandLine;
using System.Text;
using ShopDiag.Obd.Findings;
using ShopDiag.Obd.Logs;
using ShopDiag.Obd.Messages;
using ShopDiag.Obd.Wire;

namespace ShopDiag.Web.Verbs;

/// <summary><c>decode FILE</c>: captured OBD messages, a decoded record a line, and what they come to in the last line.</summary>
internal static class DecodeVerb
{
    private const int BadInput = 1;

    public static Command Create()
    {
        var file = new Argument<string>("FILE") { Description = "Captured OBD messages: text of candump, or lines of hexadecimal bytes." };
        var command = new Command("decode", "Decode captured OBD messages: one JSON record a line, and a summary in the last line.") { file };
        command.SetAction((parsed, _) =>
        {
            using var reader = new StreamReader(parsed.GetRequiredValue(file), Encoding.UTF8, detectEncodingFromByteOrderMarks: true);
            return RunAsync(reader, Console.Out, Console.Error);
        });
        return command;
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
            await output.WriteAsync(ObdJson.WriteError(error) + "\n");
            return BadInput;
        }

        var log = read.Value;
        foreach (var record in log.Records)
        {
            await output.WriteAsync(ObdJson.Write(record) + "\n");
            foreach (var remark in record.Remarks)
            {
                await errors.WriteLineAsync($"line {record.Message.Line}: {remark}");
            }
        }

        foreach (var problem in log.Problems)
        {
            await output.WriteAsync(ObdJson.Write(problem) + "\n");
            await errors.WriteLineAsync(problem.ToString());
        }

        if (log.MoreProblems > 0)
        {
            await errors.WriteLineAsync($"And {log.MoreProblems} more like these.");
        }

        await output.WriteAsync(ObdJson.Write(ObdFindings.From(log), log) + "\n");
        await output.FlushAsync();
        return log.Problems.IsEmpty && !log.Records.Any(r => r is UnreadRecord) ? 0 : BadInput;
    }
}
