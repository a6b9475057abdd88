using System.Diagnostics;
using System.Globalization;
using System.Net;

namespace ShopDiag.Load;

/// <summary>One measurement: so many tablets for so long.</summary>
/// <param name="Tablets">Pages of a workup that were open, each on an order of its own.</param>
/// <param name="Seen">The times.</param>
/// <param name="Entered">Readings the server said it has.</param>
/// <param name="InRecords">Readings its records have afterwards.</param>
/// <param name="BytesAPage">Memory the server took more for each page, before anybody typed.</param>
/// <param name="BytesAPageAfter">The same at the end.</param>
/// <param name="ServerCores">Cores the server kept busy while they worked.</param>
/// <param name="TabletCores">Cores the tablets of this program kept busy meanwhile: on the same machine.</param>
/// <param name="Opening">Time to open them all.</param>
internal sealed record LoadRun(int Tablets, Seen Seen, int Entered, int InRecords, double BytesAPage, double BytesAPageAfter, double ServerCores, double TabletCores, TimeSpan Opening)
{
    // Pages opened first bring into memory what all share: they are not counted.
    private const int First = 10;
    private static readonly string[] People = ["nora", "ruth", "lena", "marco", "sam"];

    public const string Heading =
        "| tablets | keys | key ms: median | p95 | p99 | readings | saved ms: median | p99 | on the sheet ms: median | p99 | MB a page, opened | at the end | cores: server | tablets | opening s |\n" +
        "|---:|---:|---:|---:|---:|---:|---:|---:|---:|---:|---:|---:|---:|---:|---:|";

    public bool NothingLost => InRecords == Entered;

    public static async Task<LoadRun> RunAsync(int tablets, TimeSpan time, TimeSpan aReading)
    {
        await using var shop = await LoadShop.StartAsync(tablets + First);
        var people = new List<CookieContainer>();
        foreach (var login in People)
        {
            people.Add(await shop.SignInAsync(login));
        }

        // Code that has run often is compiled again, better: the first pages work for a while alone.
        var before = new Seen();
        var first = await OpenAsync(shop, people, 0, First, Pace.Of(aReading / 6), before);
        await WorkAsync(first, TimeSpan.FromSeconds(20));
        await Task.Delay(TimeSpan.FromSeconds(5));
        var (empty, opening, seen) = (shop.Resident, Stopwatch.StartNew(), new Seen());
        var others = await OpenAsync(shop, people, First, tablets, Pace.Of(aReading), seen);
        opening.Stop();
        await Task.Delay(TimeSpan.FromSeconds(10));
        var (opened, processor, own, watch) = (shop.Resident, shop.Processor, Own(), Stopwatch.StartNew());
        await WorkAsync(others, time);
        var (serverCores, tabletCores) = ((shop.Processor - processor) / watch.Elapsed, (Own() - own) / watch.Elapsed);
        var after = shop.Resident;
        foreach (var tablet in first.Concat(others))
        {
            await tablet.CloseAsync();
        }

        return new(tablets, seen, first.Concat(others).Sum(t => t.Entered), await shop.ReadingsAsync(), (double)(opened - empty) / tablets, (double)(after - empty) / tablets, serverCores, tabletCores, opening.Elapsed);
    }

    public override string ToString() => string.Create(
        CultureInfo.InvariantCulture,
        $"| {Tablets} | {Seen.Keystrokes.Count} | {Seen.Keystrokes.Quantile(0.5):0.0} | {Seen.Keystrokes.Quantile(0.95):0.0} | {Seen.Keystrokes.Quantile(0.99):0.0} | {Entered} | {Seen.Saved.Quantile(0.5):0} | {Seen.Saved.Quantile(0.99):0} | {Seen.Shown.Quantile(0.5):0} | {Seen.Shown.Quantile(0.99):0} | {BytesAPage / 1e6:0.00} | {BytesAPageAfter / 1e6:0.00} | {ServerCores:0.00} | {TabletCores:0.00} | {Opening.TotalSeconds:0} |{(NothingLost ? "" : $" LOST: {InRecords} of {Entered} readings are in the records.")}");

    private static async Task<Tablet[]> OpenAsync(LoadShop shop, List<CookieContainer> people, int from, int count, Pace pace, Seen seen)
    {
        List<Tablet> tablets = [];
        for (var i = from; i < from + count; i++)
        {
            tablets.Add(await Tablet.OpenAsync(shop.Server, people[i % people.Count], shop.Orders[i], new Random(i), pace, seen));
        }

        return [.. tablets];
    }

    private static async Task WorkAsync(Tablet[] tablets, TimeSpan time)
    {
        using var stop = new CancellationTokenSource(time);
        await Task.WhenAll(tablets.Select(t => t.WorkAsync(8, stop.Token)));
    }

    private static TimeSpan Own()
    {
        using var self = Process.GetCurrentProcess();
        return self.TotalProcessorTime;
    }
}
