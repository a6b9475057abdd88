using System.CommandLine;
using System.CommandLine.Parsing;
using ShopDiag.Diagnosis;
using ShopDiag.Diagnosis.Wire;

namespace ShopDiag.Web.Verbs;

/// <summary>A verb that works out what one file holds, as lines of JSON. The HTTP interface takes its options, their checks and its lines from here: the two cannot differ.</summary>
internal abstract class FileVerb
{
    private const int BadInput = 1;

    /// <summary>What the verb is called, and its address.</summary>
    public abstract string Name { get; }

    /// <summary>The command with its options and their checks.</summary>
    public Command Build(Argument<string> file)
    {
        var command = Command(file);
        command.SetAction((parsed, cancel) =>
        {
            using var stream = File.OpenRead(parsed.GetRequiredValue(file));
            return RunAsync(Lines(parsed.CommandResult, stream, cancel), Console.Out, Console.Error);
        });
        return command;
    }

    /// <summary>The lines for a file that can be wound back, or what is wrong with it. Only for options that were found right.</summary>
    public abstract Parsed<string[]> Lines(CommandResult asked, Stream file, CancellationToken cancel);

    /// <summary>The command without what it does.</summary>
    protected abstract Command Command(Argument<string> file);

    private static async Task<int> RunAsync(Parsed<string[]> lines, TextWriter output, TextWriter errors)
    {
        if (lines.Error is { } error)
        {
            await errors.WriteLineAsync(error.ToString());
            await output.WriteAsync(JsonLine.Of(error) + "\n");
            return BadInput;
        }

        foreach (var line in lines.Value)
        {
            await output.WriteAsync(line + "\n");
        }

        return 0;
    }
}
