using System.Diagnostics;
using System.Globalization;
using System.Net;
using ShopDiag.Load.Protocol;

namespace ShopDiag.Load;

/// <summary>What all tablets together have seen.</summary>
internal sealed record Seen
{
    /// <summary>From a key to the server's answer, which brings the field as it stands.</summary>
    public Latencies Keystrokes { get; } = new();

    /// <summary>From Enter to the answer that the reading is in the database.</summary>
    public Latencies Saved { get; } = new();

    /// <summary>From Enter to the reading's figure on the sheet, judged.</summary>
    public Latencies Shown { get; } = new();
}

/// <summary>How fast a hand is.</summary>
/// <param name="Reading">From one reading to the next, on average.</param>
/// <param name="Key">From one key to the next, on average.</param>
internal sealed record Pace(TimeSpan Reading, TimeSpan Key)
{
    /// <summary>Keys of a hand that looks for each digit.</summary>
    public static Pace Of(TimeSpan reading) => new(reading, TimeSpan.FromMilliseconds(300));
}

/// <summary>
/// A technician at a car: goes through the cylinders of one test after another, typing each number digit by digit and entering it. Keys are pressed when a hand presses them, not when the answer to the last one
/// has come; the next reading begins when the bench has had its time, or later if the page was slower.
/// </summary>
internal sealed class Tablet(Circuit page, Random chance, Pace pace, Seen seen)
{
    private static readonly (string Test, Func<Random, int>[] Fields)[] Rounds =
    [
        ("power-balance", [_ => 700, r => r.Next(610, 660)]),
        ("compression-dry", [r => r.Next(145, 175)]),
        ("leak-down", [r => r.Next(3, 12)]),
    ];

    /// <summary>Readings that the server said it has.</summary>
    public int Entered { get; private set; }

    /// <summary>Opens the workup of an order.</summary>
    public static async Task<Tablet> OpenAsync(Uri server, CookieContainer cookies, int order, Random chance, Pace pace, Seen seen)
    {
        var page = await Circuit.OpenAsync(server, cookies, string.Create(CultureInfo.InvariantCulture, $"/orders/{order}/workup"));
        await page.UntilAsync(p => p.Find(Cell("power-balance", 1)) is not null, $"the sheet of order {order}");
        return new(page, chance, pace, seen);
    }

    /// <summary>Takes readings until told to stop, or until the tests are through.</summary>
    public async Task WorkAsync(int cylinders, CancellationToken stop)
    {
        // Not all at once: a hand comes at any time.
        await PauseAsync(pace.Reading * chance.NextDouble(), stop);
        foreach (var (test, fields) in Rounds)
        {
            if (stop.IsCancellationRequested)
            {
                break;
            }

            await page.SendAsync(p => p.Find(n => n.Attributes.ContainsKey("data-sheet")), "cellpressed", new { key = $"{test}:c1" });
            var cylinder = 0;
            for (var entered = 0; entered < cylinders && !stop.IsCancellationRequested; entered++)
            {
                var began = Stopwatch.StartNew();
                cylinder = await NextAsync(test, cylinder);
                await EnterAsync(test, cylinder, fields);
                await PauseAsync((pace.Reading * (0.5 + chance.NextDouble())) - began.Elapsed, stop);
            }
        }
    }

    public ValueTask CloseAsync() => page.DisposeAsync();

    // The entry goes on by itself, in the order of the engine's banks.
    private async Task<int> NextAsync(string test, int last)
    {
        await page.UntilAsync(p => Open(p, test) is { } open && open != last, $"the entry of {test} after cylinder {last}");
        return page.Look(p => Open(p, test))!.Value;
    }

    private static int? Open(PageTree page, string test)
    {
        var place = page.WithId("wk-field-0")?["data-draft"]?.Split($":{test}:c") is [_, var rest] ? rest.Split(':')[0] : null;
        return place is null ? null : int.Parse(place, CultureInfo.InvariantCulture);
    }

    private async Task EnterAsync(string test, int cylinder, Func<Random, int>[] fields)
    {
        List<Task> keys = [];
        for (var field = 0; field < fields.Length; field++)
        {
            var text = fields[field](chance).ToString(CultureInfo.InvariantCulture);
            for (var length = 1; length <= text.Length; length++)
            {
                keys.Add(KeyAsync($"wk-field-{field}", text[..length], (cylinder * 100) + (field * 10) + length));
                await Task.Delay(pace.Key * (0.5 + chance.NextDouble()));
            }
        }

        await Task.WhenAll(keys);
        var since = Stopwatch.StartNew();
        var shown = ShownAsync(test, cylinder, since);
        await page.SendAsync(p => p.Find(n => n.Attributes.ContainsKey("data-entry-form")), "submit", new { type = "submit" });
        seen.Saved.Add(since.Elapsed);
        Entered++;
        await shown;
    }

    private async Task KeyAsync(string field, string text, int sequence)
    {
        var since = Stopwatch.StartNew();
        await page.SendAsync(p => p.WithId(field), "journalled", new { value = text, @base = (string?)null, sequence, id = Guid.NewGuid(), replayed = false });
        seen.Keystrokes.Add(since.Elapsed);
    }

    private async Task ShownAsync(string test, int cylinder, Stopwatch since)
    {
        await page.UntilAsync(p => p.Find(Cell(test, cylinder))?.Find(n => n.HasClass("wk-figure")) is not null, $"{test}, cylinder {cylinder} on the sheet");
        seen.Shown.Add(since.Elapsed);
    }

    private static Func<Node, bool> Cell(string test, int cylinder) => n => n.Element == "button" && n["data-cell"] == $"{test}:c{cylinder}";

    private static async Task PauseAsync(TimeSpan time, CancellationToken stop)
    {
        if (time > TimeSpan.Zero)
        {
            await Task.WhenAny(Task.Delay(time, CancellationToken.None), Task.Delay(Timeout.Infinite, stop));
        }
    }
}
