using System.Collections.Immutable;
using System.Globalization;
using ShopDiag.Obd.Frames;

namespace ShopDiag.Obd.Transport;

/// <summary>What came of a frame: a whole message, a reason why there is none, or neither yet.</summary>
/// <param name="Message">The message that the frame completed, or null.</param>
/// <param name="Problem">What went wrong, in plain words, or null. A problem and a message may come together: the frame broke one message off and was one itself.</param>
public readonly record struct Assembled(ObdMessage? Message, string? Problem);

/// <summary>
/// Puts frames together to messages after ISO 15765-2, normal addressing on classic CAN: single, first and consecutive frames and flow control, for any number of
/// control units at once. What breaks the rules ends the message it belongs to, with the reason.
/// </summary>
public sealed class Reassembler
{
    /// <summary>Longest time between two frames of a message, in seconds: N_Cr of ISO 15765-2, 1000 ms.</summary>
    public const double LongestGap = 1.0;

    /// <summary>Most bytes of a message whose length is told in 12 bits.</summary>
    public const int MostBytes = 4095;

    private readonly Dictionary<(string Channel, CanId Id), Partial> _open = [];

    /// <summary>Takes the next frame. Frames of other traffic give nothing.</summary>
    public Assembled Add(CanFrame frame)
    {
        ArgumentNullException.ThrowIfNull(frame);
        if (frame.Id.Role == CanRole.Other)
        {
            return default;
        }

        if (frame.Data.IsEmpty)
        {
            return new(null, $"{frame.Id}: a frame without bytes.");
        }

        return (frame.Data[0] >> 4) switch
        {
            0 => Single(frame),
            1 => First(frame),
            2 => Consecutive(frame),
            3 => FlowControl(frame),
            var type => new(null, string.Create(CultureInfo.InvariantCulture, $"{frame.Id}: frame type {type:X} is not one of ISO 15765-2 (byte {frame.Data[0]:X2}).")),
        };
    }

    /// <summary>What is still open when the log ends, in words.</summary>
    public IEnumerable<string> Unfinished() => _open.Values.OrderBy(p => p.Line).Select(p => $"{p.Id}: the log ends in a message from line {p.Line}: {p.Progress}.");

    private Assembled Single(CanFrame frame)
    {
        var broken = BreakOff(frame, "a new message began");
        var length = frame.Data[0] & 0x0F;
        if (length == 0)
        {
            return new(null, broken ?? $"{frame.Id}: a single frame of length 0 (an escape for CAN FD, which is not read).");
        }

        return length > frame.Data.Length - 1
            ? new(null, Join(broken, $"{frame.Id}: a single frame says {length} bytes and holds {frame.Data.Length - 1}."))
            : new(Message(frame, [.. frame.Data.AsSpan().Slice(1, length)]), broken);
    }

    private Assembled First(CanFrame frame)
    {
        var broken = BreakOff(frame, "a new message began");
        if (frame.Data.Length < CanFrame.MostBytes)
        {
            return new(null, Join(broken, $"{frame.Id}: a first frame of {frame.Data.Length} bytes; it takes 8."));
        }

        var length = ((frame.Data[0] & 0x0F) << 8) | frame.Data[1];
        if (length < CanFrame.MostBytes)
        {
            return new(null, Join(broken, length == 0
                ? $"{frame.Id}: a first frame for more than {MostBytes} bytes, which OBD does not use."
                : $"{frame.Id}: a first frame for {length} bytes, which would fit a single frame."));
        }

        if (frame.Id.Role == CanRole.FunctionalRequest)
        {
            return new(null, Join(broken, $"{frame.Id}: a request to all control units must fit a single frame."));
        }

        var partial = new Partial(frame.Id, length, frame.Line, frame.Seconds);
        partial.Take(frame.Data.AsSpan()[2..]);
        _open[(frame.Channel, frame.Id)] = partial;
        return new(null, broken);
    }

    private Assembled Consecutive(CanFrame frame)
    {
        if (!_open.TryGetValue((frame.Channel, frame.Id), out var partial))
        {
            return new(null, $"{frame.Id}: a consecutive frame without a first frame.");
        }

        if (frame.Seconds - partial.Last > LongestGap)
        {
            return new(null, BreakOff(frame, string.Create(CultureInfo.InvariantCulture, $"the next frame came after {frame.Seconds - partial.Last:0.0} s, longer than the {LongestGap:0} s allowed")));
        }

        var number = frame.Data[0] & 0x0F;
        if (number != partial.Next)
        {
            return new(null, BreakOff(frame, string.Create(CultureInfo.InvariantCulture, $"frame 2{partial.Next:X} was due and 2{number:X} came")));
        }

        var wanted = Math.Min(partial.Missing, CanFrame.MostBytes - 1);
        if (frame.Data.Length - 1 < wanted)
        {
            return new(null, BreakOff(frame, $"a frame holds {frame.Data.Length - 1} bytes where {wanted} were due"));
        }

        partial.Take(frame.Data.AsSpan().Slice(1, wanted));
        partial.Last = frame.Seconds;
        if (partial.Missing > 0)
        {
            return default;
        }

        _open.Remove((frame.Channel, frame.Id));
        return new(Message(frame, partial.Bytes), null);
    }

    /// <summary>A flow control frame travels against the message it speaks about.</summary>
    private Assembled FlowControl(CanFrame frame)
    {
        if (frame.Id.Role == CanRole.FunctionalRequest)
        {
            return new(null, $"{frame.Id}: flow control to all control units; it must go to one.");
        }

        var about = (frame.Channel, frame.Id.Reverse);
        var status = frame.Data[0] & 0x0F;
        if (!_open.TryGetValue(about, out var partial))
        {
            return default;
        }

        // Waiting and going on both start the time anew.
        partial.Last = frame.Seconds ?? partial.Last;
        return status switch
        {
            0 or 1 => default,
            2 => new(null, Drop(about, partial, "the receiver had no room for it")),
            _ => new(null, Drop(about, partial, string.Create(CultureInfo.InvariantCulture, $"flow control 3{status:X} is not one of ISO 15765-2"))),
        };
    }

    private string? BreakOff(CanFrame frame, string why) =>
        _open.TryGetValue((frame.Channel, frame.Id), out var partial) ? Drop((frame.Channel, frame.Id), partial, why) : null;

    private string Drop((string Channel, CanId Id) key, Partial partial, string why)
    {
        _open.Remove(key);
        return $"{partial.Id}: the message {(partial.Line > 0 ? $"from line {partial.Line} " : "")}was broken off, {partial.Progress}: {why}.";
    }

    private static string Join(string? broken, string problem) => broken is null ? problem : $"{broken} {problem}";

    private static ObdMessage Message(CanFrame frame, ImmutableArray<byte> bytes) =>
        new(bytes) { Id = frame.Id, Seconds = frame.Seconds, Channel = frame.Channel, Line = frame.Line };

    /// <summary>A message of several frames that is not whole yet. Grows with what arrives, never by what is announced.</summary>
    private sealed class Partial(CanId id, int length, int line, double? first)
    {
        private readonly ImmutableArray<byte>.Builder _bytes = ImmutableArray.CreateBuilder<byte>(32);

        public CanId Id => id;

        public int Line => line;

        public double? Last { get; set; } = first;

        /// <summary>Number that the next consecutive frame must carry: 1 to 15, then 0.</summary>
        public int Next { get; private set; }

        public int Missing => length - _bytes.Count;

        public ImmutableArray<byte> Bytes => _bytes.ToImmutable();

        public string Progress => $"{_bytes.Count} of {length} bytes";

        public void Take(ReadOnlySpan<byte> bytes)
        {
            _bytes.AddRange(bytes);
            Next = (Next + 1) & 0x0F;
        }
    }
}
