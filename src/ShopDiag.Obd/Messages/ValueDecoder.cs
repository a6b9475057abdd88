using System.Collections.Immutable;
using ShopDiag.Diagnosis.Vehicles;
using ShopDiag.Obd.Data;
using ShopDiag.Obd.Frames;
using ShopDiag.Obd.Transport;

namespace ShopDiag.Obd.Messages;

/// <summary>Services 01 and 02: PIDs one after the other, each with its data; in service 02 a frame number stands between the two (ISO 15031-5).</summary>
internal static class ValueDecoder
{
    private const byte MonitorsSinceClear = 0x01;
    private const byte FreezeCodePid = 0x02;
    private const byte MonitorsThisCycle = 0x41;

    /// <summary>What the items of one message came to.</summary>
    private sealed class Items
    {
        public ImmutableArray<ObdValue>.Builder Values { get; } = ImmutableArray.CreateBuilder<ObdValue>();

        public ImmutableArray<MonitorStatus>.Builder Monitors { get; } = ImmutableArray.CreateBuilder<MonitorStatus>();

        public ImmutableArray<byte>.Builder Supported { get; } = ImmutableArray.CreateBuilder<byte>();

        public ImmutableArray<string>.Builder Remarks { get; } = ImmutableArray.CreateBuilder<string>();

        public TroubleCode? Code { get; set; }

        public bool NoCode { get; set; }

        public byte Frame { get; set; }
    }

    public static ObdRecord Live(ObdMessage message)
    {
        var items = Read(message, frames: false);
        return new ValuesRecord(message, items.Values.ToImmutable())
        {
            Monitors = items.Monitors.ToImmutable(),
            FreezeCode = items.Code,
            Supported = items.Supported.ToImmutable(),
            Remarks = items.Remarks.ToImmutable(),
        };
    }

    public static ObdRecord FreezeFrame(ObdMessage message)
    {
        var items = Read(message, frames: true);
        if (items.Monitors.Count > 0)
        {
            items.Remarks.Add("The answer holds a monitor status, which is no part of a freeze frame; it was passed over.");
        }

        return new FreezeFrameRecord(message, items.Frame, items.Values.ToImmutable())
        {
            Code = items.Code,
            Empty = items.NoCode,
            Supported = items.Supported.ToImmutable(),
            Remarks = items.Remarks.ToImmutable(),
        };
    }

    private static Items Read(ObdMessage message, bool frames)
    {
        var items = new Items();
        var rest = message.Bytes.AsSpan()[1..];
        if (rest.IsEmpty)
        {
            items.Remarks.Add("The answer names no PID.");
        }

        var first = true;
        while (!rest.IsEmpty)
        {
            if (!first && MessageDecoder.IsFilling(message, rest))
            {
                break;
            }

            var used = One(items, rest, frames, message.Id is null, first);
            if (used == 0)
            {
                break;
            }

            rest = rest[used..];
            first = false;
        }

        return items;
    }

    /// <summary>Reads one PID; the number of bytes it took, or 0 when the rest cannot be read.</summary>
    private static int One(Items items, ReadOnlySpan<byte> rest, bool frames, bool loose, bool first)
    {
        var pid = rest[0];
        var head = frames ? 2 : 1;
        if (rest.Length < head)
        {
            items.Remarks.Add($"PID {MessageDecoder.Two(pid)} stands at the end without its frame number.");
            return 0;
        }

        if (frames)
        {
            if (!first && items.Frame != rest[1])
            {
                items.Remarks.Add($"One message speaks of freeze frames {items.Frame} and {rest[1]}; the second was passed over.");
                return 0;
            }

            items.Frame = rest[1];
        }

        var data = rest[head..];
        var taken = Data(items, pid, data, loose, first);
        return taken == 0 ? 0 : head + taken;
    }

    private static int Data(Items items, byte pid, ReadOnlySpan<byte> data, bool loose, bool first)
    {
        var special = PidTable.IsMask(pid) || pid is MonitorsSinceClear or MonitorsThisCycle ? 4 : pid == FreezeCodePid ? 2 : 0;
        var definition = special > 0 ? null : PidTable.Find(pid);
        if (special == 0 && definition is null)
        {
            items.Remarks.Add($"PID {MessageDecoder.Two(pid)} is not in this program's list; its bytes are {(data.IsEmpty ? "none" : Hex.Show(data))}.");
            return 0;
        }

        var length = definition?.Bytes ?? special;
        if (data.Length < length)
        {
            items.Remarks.Add($"PID {MessageDecoder.Two(pid)} takes {MessageDecoder.Count(length, "byte")} and has {data.Length}.");
            return 0;
        }

        if (definition is null)
        {
            Special(items, pid, data[..length]);
            return length;
        }

        items.Values.AddRange(Values(definition, data));

        // The trim of bank 3 or 4 stands behind that of bank 1 or 2. Only a message that ends there is certain; a log without frames may end in filling.
        if (first && data.Length == 2 && !loose && PidTable.SecondTrim(pid) is { } second)
        {
            items.Values.Add(new(pid, second, second.Raw(data)));
            return 2;
        }

        return length;
    }

    private static List<ObdValue> Values(PidDefinition definition, ReadOnlySpan<byte> data)
    {
        var values = new List<ObdValue>(definition.Items.Length);
        foreach (var item in definition.Items)
        {
            var raw = item.Raw(data);
            var present = item.PresentBit is not { } bit || (data[0] >> bit & 1) != 0;
            if (present && raw != item.Unused)
            {
                values.Add(new(definition.Pid, item, raw));
            }
        }

        return values;
    }

    private static void Special(Items items, byte pid, ReadOnlySpan<byte> data)
    {
        if (pid == FreezeCodePid)
        {
            items.NoCode = data[0] == 0 && data[1] == 0;
            items.Code = items.NoCode ? null : CodeDecoder.Code(data[0], data[1]);
        }
        else if (pid is MonitorsSinceClear or MonitorsThisCycle)
        {
            items.Monitors.Add(MonitorStatus.Read(pid == MonitorsThisCycle, data));
        }
        else
        {
            items.Supported.AddRange(MessageDecoder.Supported(pid, data));
        }
    }
}
