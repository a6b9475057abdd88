using System.Collections.Immutable;
using ShopDiag.Obd.Frames;
using ShopDiag.Obd.Messages;
using ShopDiag.Obd.Transport;

namespace ShopDiag.Obd.Logs;

/// <summary>Puts a log together from lines of text or from frames as they come in.</summary>
public sealed class ObdLogBuilder
{
    /// <summary>Most buses that one log may name; more is a log gone wrong.</summary>
    private const int MostChannels = 16;

    /// <summary>Frames that were logged without identifier are put together under this one.</summary>
    private static readonly CanId Nameless = new(0x7E8, false);

    private const string NamelessChannel = "\0";

    private readonly Reassembler _reassembler = new();
    private readonly PendingAnswers _pending = new();
    private readonly StampReader _stamps = new();
    private readonly HashSet<string> _channels = [];
    private readonly ImmutableArray<ObdRecord>.Builder _records = ImmutableArray.CreateBuilder<ObdRecord>();
    private readonly ImmutableArray<LogProblem>.Builder _problems = ImmutableArray.CreateBuilder<LogProblem>();
    private int _more;
    private int _passedOver;

    /// <summary>Messages so far.</summary>
    public int Messages => _records.Count;

    internal int OtherFrames { get; private set; }

    internal int ObdFrames { get; private set; }

    /// <summary>Takes the next frame, and gives the message that it completed as a record; null when it completed none.</summary>
    public ObdRecord? Add(CanFrame frame)
    {
        ArgumentNullException.ThrowIfNull(frame);
        if (frame.Id.Role == CanRole.Other)
        {
            OtherFrames++;
            return null;
        }

        if (!_channels.Contains(frame.Channel) && _channels.Count >= MostChannels)
        {
            Problem(frame.Line, $"The log names more than {MostChannels} buses; '{frame.Channel}' was left out.");
            return null;
        }

        _channels.Add(frame.Channel);
        ObdFrames++;
        var (message, problem) = _reassembler.Add(frame);
        if (problem is not null)
        {
            Problem(frame.Line, frame.Channel == NamelessChannel ? problem.Replace($"{Nameless}: ", "", StringComparison.Ordinal) : problem);
        }

        return message is null ? null : Add(frame.Channel == NamelessChannel ? message with { Id = null, Channel = "" } : message);
    }

    /// <summary>What was read so far, with what is still open said among the problems. Call it once.</summary>
    public ObdLog Build()
    {
        foreach (var open in _reassembler.Unfinished().Concat(_pending.Unanswered()))
        {
            Problem(0, open.Replace($"{Nameless}: ", _channels.Contains(NamelessChannel) ? "" : $"{Nameless}: ", StringComparison.Ordinal));
        }

        return new ObdLog { Records = _records.ToImmutable(), Problems = _problems.ToImmutable(), MoreProblems = _more, PassedOver = _passedOver, OtherFrames = OtherFrames };
    }

    internal void Add(string text, int number, bool wasCut)
    {
        if (wasCut)
        {
            Problem(number, "the line is longer than any message can be.");
            return;
        }

        var line = LineReader.Read(text);
        var seconds = line.Stamp is { } stamp ? _stamps.Seconds(stamp) : (double?)null;
        switch (line.Kind)
        {
            case LineKind.Nothing:
                return;
            case LineKind.PassedOver:
                _passedOver++;
                return;
            case LineKind.Unreadable:
                Problem(number, line.Reason!);
                return;
            case LineKind.Frame:
                Add(new CanFrame(line.Id, line.Bytes) { Seconds = seconds, Channel = line.Channel ?? "", Line = number });
                return;
            case LineKind.Message when IsFrameWithoutId(line.Bytes.AsSpan()):
                Add(new CanFrame(Nameless, line.Bytes) { Seconds = seconds, Channel = NamelessChannel, Line = number });
                return;
            case LineKind.Message:
                Add(new ObdMessage(line.Bytes) { Seconds = seconds, Line = number });
                return;
            default:
                throw new InvalidOperationException($"Unknown kind {line.Kind}.");
        }
    }

    /// <summary>
    /// No OBD message begins with 10 to 3F, so these are frames of a longer one. Eight bytes that begin with a length are a single frame: no request of OBD is that long, and
    /// answers begin with 41 on.
    /// </summary>
    private static bool IsFrameWithoutId(ReadOnlySpan<byte> bytes) => bytes switch
    {
        { Length: > CanFrame.MostBytes } or { Length: 0 } => false,
        [>= 0x10 and <= 0x3F, ..] => true,
        [>= 0x01 and <= 0x07, ..] => bytes.Length == CanFrame.MostBytes,
        _ => false,
    };

    private ObdRecord Add(ObdMessage message)
    {
        var record = MessageDecoder.Decode(message);
        if (_pending.Add(record) is { } late)
        {
            Problem(message.Line, late);
        }

        _records.Add(record);
        return record;
    }

    private void Problem(int line, string message)
    {
        if (_problems.Count < ObdLog.MostProblems)
        {
            _problems.Add(new(line, message));
        }
        else
        {
            _more++;
        }
    }
}
