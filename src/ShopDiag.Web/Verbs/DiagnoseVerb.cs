using System.CommandLine;
using ShopDiag.Diagnosis;
using ShopDiag.Diagnosis.Wire;
using ShopDiag.Diagnosis.Workups;

namespace ShopDiag.Web.Verbs;

/// <summary><c>diagnose</c>: a workup a line in, an assessment a line out.</summary>
internal static class DiagnoseVerb
{
    public static Command Create()
    {
        var command = new Command("diagnose", "Assess workups: one JSON workup a line on standard input, one JSON assessment a line on standard output.");
        command.SetAction((_, cancel) => RunAsync(Console.In, Console.Out, Console.Error, Knowledge.Shipped, cancel));
        return command;
    }

    /// <summary>
    /// Answers line by line and flushes each, so that a program can hold a dialogue. A line that cannot be read is answered by an error and
    /// the others go on. Exit code 0, or 1 when any line was wrong.
    /// </summary>
    public static async Task<int> RunAsync(TextReader input, TextWriter output, TextWriter errors, Knowledge knowledge, CancellationToken cancel = default)
    {
        var wrong = 0;
        for (var number = 1; await input.ReadLineAsync(cancel) is { } line; number++)
        {
            if (string.IsNullOrWhiteSpace(line))
            {
                continue;
            }

            var (id, workup) = WorkupJson.Read(line, knowledge);
            if (workup.Error is { } error)
            {
                wrong++;
                await errors.WriteLineAsync($"line {number}: {error}");
                await output.WriteAsync(AssessmentJson.WriteError(id, error) + "\n");
            }
            else
            {
                await output.WriteAsync(AssessmentJson.Write(Diagnostician.Assess(workup.Value, knowledge)) + "\n");
            }

            await output.FlushAsync(cancel);
        }

        return wrong == 0 ? 0 : 1;
    }
}
