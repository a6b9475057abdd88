using System.Collections.Immutable;
using ShopDiag.Obd.Frames;
using ShopDiag.Obd.Logs;
using ShopDiag.Obd.Messages;
using ShopDiag.Obd.Transport;

namespace ShopDiag.Obd.Live;

/// <summary>
/// Asks a car over a link and keeps what is said as a log. It reads only: it asks services 01, 02, 03, 06, 07, 09 and 0A, and never clears codes. Not safe for two askers at once.
/// </summary>
public sealed class ObdTester
{
    /// <summary>Silence after which nobody answers any more: P2 of ISO 15765-4 is 50 ms (from memory), with room for the machine.</summary>
    private static readonly TimeSpan Silence = TimeSpan.FromMilliseconds(150);

    /// <summary>Silence while a message is under way: N_Cr of ISO 15765-2, 1000 ms.</summary>
    private static readonly TimeSpan UnderWay = TimeSpan.FromSeconds(Reassembler.LongestGap);

    /// <summary>Silence after an answer was announced (P2*, ISO 15765-4, from memory).</summary>
    private static readonly TimeSpan Announced = TimeSpan.FromSeconds(5);

    /// <summary>Longest time for one request, whatever keeps coming in: a busy bus must not hold the tester up.</summary>
    private static readonly TimeSpan Longest = TimeSpan.FromSeconds(30);

    private readonly IObdLink _link;
    private readonly TimeProvider _time;
    private readonly long _start;
    private readonly ObdLogBuilder _log = new();

    /// <summary>Works over a link, by a clock.</summary>
    public ObdTester(IObdLink link, TimeProvider time)
    {
        ArgumentNullException.ThrowIfNull(link);
        ArgumentNullException.ThrowIfNull(time);
        (_link, _time, _start) = (link, time, time.GetTimestamp());
    }

    /// <summary>The identifier under which all control units are asked; 29 bits when nobody answers under 11.</summary>
    public CanId AskAll { get; private set; } = CanId.AskAll;

    /// <summary>Everything said so far. Call it once, at the end.</summary>
    public ObdLog Log() => _log.Build();

    /// <summary>Asks all control units and waits for their answers. Throws <see cref="IOException"/> when the link has ended.</summary>
    /// <param name="request">The service and what it asks for, 1 to 7 bytes.</param>
    /// <param name="cancel">Calls it off.</param>
    public async Task<ImmutableArray<ObdRecord>> AskAsync(ImmutableArray<byte> request, CancellationToken cancel = default)
    {
        ArgumentOutOfRangeException.ThrowIfGreaterThan(request.Length, CanFrame.MostBytes - 1);
        await SendAsync(Segmenter.Cut(AskAll, request.AsSpan())[0], cancel).ConfigureAwait(false);
        var answers = ImmutableArray.CreateBuilder<ObdRecord>();
        var open = new HashSet<CanId>();
        var pending = new HashSet<CanId>();
        var asked = _time.GetTimestamp();
        while (_time.GetElapsedTime(asked) < Longest)
        {
            var wait = pending.Count > 0 ? Announced : open.Count > 0 ? UnderWay : Silence;
            if (await ReceiveAsync(wait, cancel).ConfigureAwait(false) is not { } frame)
            {
                break;
            }

            var record = _log.Add(frame with { Seconds = _time.GetElapsedTime(_start).TotalSeconds });
            if (frame.Id.Role != CanRole.Answer)
            {
                continue;
            }

            if (record is not null)
            {
                open.Remove(frame.Id);
                pending.Remove(frame.Id);
                answers.Add(record);
                if (record is RefusalRecord { IsPending: true })
                {
                    pending.Add(frame.Id);
                }
            }
            else if (!frame.Data.IsEmpty && frame.Data[0] >> 4 == 1)
            {
                open.Add(frame.Id);
                await SendAsync(Segmenter.GoOn(frame.Id.Reverse), cancel).ConfigureAwait(false);
            }
        }

        return answers.ToImmutable();
    }

    /// <summary>Reads what a misfire needs to know: VIN, codes, freeze frame, monitors, test results, then the supported live values once. False when nobody answers.</summary>
    public async Task<bool> ReadAllAsync(CancellationToken cancel = default)
    {
        var pids = await SupportedAsync([0x01], cancel).ConfigureAwait(false);
        if (pids.Count == 0)
        {
            AskAll = CanId.AskAllExtended;
            pids = await SupportedAsync([0x01], cancel).ConfigureAwait(false);
        }

        if (pids.Count == 0)
        {
            return false;
        }

        foreach (var type in (await SupportedAsync([0x09], cancel).ConfigureAwait(false)).Where(t => t is 0x02 or 0x04 or 0x06 or 0x0A))
        {
            await AskAsync([0x09, type], cancel).ConfigureAwait(false);
        }

        foreach (var service in new byte[] { 0x03, 0x07, 0x0A })
        {
            await AskAsync([service], cancel).ConfigureAwait(false);
        }

        await FreezeFrameAsync(cancel).ConfigureAwait(false);
        foreach (var monitor in await SupportedAsync([0x06], cancel).ConfigureAwait(false))
        {
            await AskAsync([0x06, monitor], cancel).ConfigureAwait(false);
        }

        foreach (var pid in pids.Where(p => p != 0x02))
        {
            await AskAsync([0x01, pid], cancel).ConfigureAwait(false);
        }

        return true;
    }

    /// <summary>Reads engine speed, fuel system status, car speed and trims over and over for a time, so that trims and misfires can be told by engine speed.</summary>
    public async Task FollowAsync(TimeSpan time, CancellationToken cancel = default)
    {
        var began = _time.GetTimestamp();
        byte[][] requests = [[0x01, 0x0C, 0x03, 0x0D, 0x06, 0x07, 0x08], [0x01, 0x0C, 0x09]];
        while (_time.GetElapsedTime(began) < time)
        {
            foreach (var request in requests)
            {
                await AskAsync([.. request], cancel).ConfigureAwait(false);
            }
        }
    }

    private async Task FreezeFrameAsync(CancellationToken cancel)
    {
        var stored = await AskAsync([0x02, 0x02, 0x00], cancel).ConfigureAwait(false);
        if (!stored.OfType<FreezeFrameRecord>().Any(f => f.Code is not null))
        {
            return;
        }

        foreach (var pid in (await SupportedAsync([0x02], cancel).ConfigureAwait(false)).Where(p => p != 0x02))
        {
            await AskAsync([0x02, pid, 0x00], cancel).ConfigureAwait(false);
        }
    }

    /// <summary>Asks the masks 00, 20, 40 ... as long as one names the next.</summary>
    private async Task<SortedSet<byte>> SupportedAsync(ImmutableArray<byte> service, CancellationToken cancel)
    {
        var ids = new SortedSet<byte>();
        for (var first = 0; first <= 0xE0; first += 0x20)
        {
            ImmutableArray<byte> request = service[0] == 0x02 ? [0x02, (byte)first, 0x00] : [service[0], (byte)first];
            foreach (var answer in await AskAsync(request, cancel).ConfigureAwait(false))
            {
                ids.UnionWith(answer switch
                {
                    ValuesRecord r => r.Supported,
                    FreezeFrameRecord r => r.Supported,
                    TestsRecord r => r.Supported,
                    VehicleRecord r => r.Supported,
                    _ => [],
                });
            }

            if (!ids.Contains((byte)(first + 0x20)))
            {
                break;
            }
        }

        ids.RemoveWhere(id => id % 0x20 == 0);
        return ids;
    }

    private async Task SendAsync(CanFrame frame, CancellationToken cancel)
    {
        await _link.SendAsync(frame, cancel).ConfigureAwait(false);
        _log.Add(frame with { Seconds = _time.GetElapsedTime(_start).TotalSeconds });
    }

    /// <summary>The next frame, or null after a silence.</summary>
    private async Task<CanFrame?> ReceiveAsync(TimeSpan wait, CancellationToken cancel)
    {
        using var silence = new CancellationTokenSource(wait, _time);
        using var either = CancellationTokenSource.CreateLinkedTokenSource(cancel, silence.Token);
        try
        {
            return await _link.ReceiveAsync(either.Token).ConfigureAwait(false) ?? throw new IOException("The link to the car has ended.");
        }
        catch (OperationCanceledException) when (!cancel.IsCancellationRequested)
        {
            return null;
        }
    }
}
