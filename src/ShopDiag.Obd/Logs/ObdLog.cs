using System.Collections.Immutable;
using ShopDiag.Diagnosis;
using ShopDiag.Obd.Messages;

namespace ShopDiag.Obd.Logs;

/// <summary>Something in a log that could not be read.</summary>
/// <param name="Line">The line, from 1 on; 0 where it is not of one line.</param>
/// <param name="Message">What is wrong, in plain words.</param>
public sealed record LogProblem(int Line, string Message)
{
    /// <inheritdoc/>
    public override string ToString() => Line > 0 ? $"line {Line}: {Message}" : Message;
}

/// <summary>A log of OBD traffic, read and decoded.</summary>
public sealed record ObdLog
{
    /// <summary>Largest log, in characters: 32 million. More is refused, with the reason.</summary>
    public const int MostCharacters = 32 << 20;

    /// <summary>Most messages in a log. More is refused, with the reason.</summary>
    public const int MostMessages = 200_000;

    /// <summary>Most problems that are kept one by one; <see cref="MoreProblems"/> counts the others.</summary>
    public const int MostProblems = 200;

    /// <summary>Every request and answer in the order of the log.</summary>
    public required ImmutableArray<ObdRecord> Records { get; init; }

    /// <summary>What could not be read, in the order of the log.</summary>
    public ImmutableArray<LogProblem> Problems { get; init; } = [];

    /// <summary>Problems beyond those that are listed.</summary>
    public int MoreProblems { get; init; }

    /// <summary>Lines that hold a frame without data for OBD: error frames, remote requests, CAN FD.</summary>
    public int PassedOver { get; init; }

    /// <summary>Frames of other traffic on the bus, which were left out.</summary>
    public int OtherFrames { get; init; }

    /// <summary>
    /// Reads a log as text to its end: see <c>docs/obd.md</c> for the forms. Lines that cannot be read become problems and the others go on. The error says why there is no log at
    /// all: empty, too large, or nothing of OBD in it.
    /// </summary>
    public static Parsed<ObdLog> Read(TextReader reader)
    {
        ArgumentNullException.ThrowIfNull(reader);
        var builder = new ObdLogBuilder();
        var lines = new BoundedLines(reader);
        while (lines.TryNext(out var line))
        {
            if (lines.Characters > MostCharacters)
            {
                return new InputError("", "The log is larger than 32 MB. Cut out the part that matters.");
            }

            builder.Add(line, lines.Number, lines.WasCut);
            if (builder.Messages > MostMessages)
            {
                return new InputError("", $"The log holds more than {MostMessages} messages. Cut out the part that matters.");
            }
        }

        return Finished(builder, lines.Number);
    }

    /// <summary>Reads a log from a string.</summary>
    public static Parsed<ObdLog> Read(string text)
    {
        using var reader = new StringReader(text);
        return Read(reader);
    }

    private static Parsed<ObdLog> Finished(ObdLogBuilder builder, int lines)
    {
        var log = builder.Build();
        if (!log.Records.IsEmpty || builder.ObdFrames > 0)
        {
            return log;
        }

        return builder switch
        {
            { OtherFrames: > 0 } => new InputError("", $"The log holds {builder.OtherFrames} frames, and none of them of OBD (identifiers 7DF to 7EF, 18DB33F1, 18DAxxxx)."),
            _ when log.Problems is [var first, ..] => new InputError($"line {first.Line}", $"Nothing of OBD was found in {MessageDecoder.Count(lines, "line")}: {first.Message}"),
            _ => new InputError("", "The log is empty."),
        };
    }
}
