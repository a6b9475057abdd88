using System.Diagnostics;
using System.Globalization;
using Microsoft.AspNetCore.Components;
using Microsoft.AspNetCore.Components.Web;
using Microsoft.Data.Sqlite;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Logging.Abstractions;
using ShopDiag.Benchmarks.Large;
using ShopDiag.Comebacks.Figures;
using ShopDiag.Diagnosis;
using ShopDiag.Storage;
using ShopDiag.Storage.Comebacks;
using ShopDiag.Storage.Orders;
using ShopDiag.Storage.Shop;
using ShopDiag.Web.Components.OwnerViews;
using ShopDiag.Web.Owner;

namespace ShopDiag.Benchmarks;

/// <summary>
/// A shop of 200,000 orders: how long the owner's page, the list of open orders, the search and a write take. A process of its own, because the shop is made once and kept:
/// <c>dotnet run -c Release --project tests/ShopDiag.Benchmarks -- shop [FOLDER]</c>. Each line gives time on the clock and of the processor, the middle of several rounds; the first round,
/// with a cold program and file, stands beside it.
/// </summary>
internal static class LargeShop
{
    private const int Orders = 200_000;
    private const int Rounds = 9;

    public static async Task<int> RunAsync(string? folder)
    {
        var path = folder ?? Path.Combine(Path.GetTempPath(), $"shopdiag-large-{Environment.ProcessId}");
        try
        {
            await using var services = new ServiceCollection().AddLogging().AddSingleton(TimeProvider.System).AddSingleton(Knowledge.Shipped).AddShopStorage(path).BuildServiceProvider();
            await MakeAsync(services, path);
            await MeasureAsync(services);
            return 0;
        }
        finally
        {
            if (folder is null)
            {
                Directory.Delete(path, recursive: true);
            }
        }
    }

    private static async Task MakeAsync(ServiceProvider services, string path)
    {
        var watch = Stopwatch.StartNew();
        if (!File.Exists(Path.Combine(path, "shop.db")))
        {
            await using (var empty = new ServiceCollection().AddLogging().AddShopStorage(path).BuildServiceProvider())
            {
                await empty.OpenShopAsync();
                await empty.GetRequiredService<ShopStore>().SaveAsync(new ShopSettings { Name = "A large shop", LabourPerHourMinor = 14500 });
            }

            using var db = new SqliteConnection($"Data Source={Path.Combine(path, "shop.db")};Pooling=False");
            db.Open();
            using (var quick = db.CreateCommand())
            {
                quick.CommandText = "PRAGMA synchronous=OFF";
                quick.ExecuteNonQuery();
            }

            new MadeShop(db, Orders).Write();
            Say($"{Orders} orders written in {watch.Elapsed.TotalSeconds:0} s");
            watch.Restart();
        }

        await services.OpenShopAsync();
        Say($"opened, with what was missing made, in {watch.Elapsed.TotalSeconds:0.0} s; {new FileInfo(Path.Combine(path, "shop.db")).Length / 1e6:0} MB");
    }

    private static async Task MeasureAsync(ServiceProvider services)
    {
        var (orders, comebacks) = (services.GetRequiredService<OrderStore>(), services.GetRequiredService<ComebackStore>());
        var settings = (await services.GetRequiredService<ShopStore>().GetAsync())!;
        var (watch, start) = (Stopwatch.StartNew(), Environment.CpuUsage.TotalTime);
        var cases = await comebacks.CasesAsync(TimeZoneInfo.Local, settings.ComebackWindow);
        Say($"all cases read into memory, once a start of the program: {watch.Elapsed.TotalMilliseconds:0} ms, processor {(Environment.CpuUsage.TotalTime - start).TotalMilliseconds:0} ms; {cases.Length}");
        foreach (var by in OwnerWords.Offered)
        {
            await TimeAsync($"owner's page by {by}, read, counted and written as HTML", async () => await PageAsync(services, comebacks, settings, new(by, null, null)));
        }

        await TimeAsync("  of it the cases, once they are in memory", async () => (await comebacks.CasesAsync(TimeZoneInfo.Local, settings.ComebackWindow)).Length);
        await TimeAsync("  of it following the repairs", () => Task.FromResult(FollowedRepairs.From(cases, new() { AsOf = new(2026, 3, 3) }).All.Length));
        await TimeAsync("open orders", async () => (await orders.OpenOrdersAsync()).Length);
        foreach (var text in new[] { MadeShop.Plate(4711), "dn 12", "ek", "m", "Lindqvist", "greta strauss", "1ZZAB2", "00123", "P0303", "P03", "coil", "coil-failed", "rings strauss p0304", "150000", "no such thing", "zzzz" })
        {
            await TimeAsync($"search \"{text}\"", async () => (await orders.FindAsync(text)).Length);
        }

        await TimeAsync("known car by its plate", async () => (await orders.KnownVehiclesAsync(MadeShop.Plate(4711))).Length);
        var last = (await orders.GetByNumberAsync(1000 + Orders))!;
        await TimeAsync("cases of one car", async () => (await comebacks.OfVehicleAsync(last.Vehicle.Id, TimeZoneInfo.Local)).Length);
        await TimeAsync("a field saved", async () => (await orders.SetFieldAsync(last.Id, OrderField.ConcernText, $"Shakes {Random.Shared.Next()}", null, Guid.NewGuid(), "Ruth")).Outcome == SaveOutcome.Saved ? 1 : 0);
    }

    private static async Task<int> PageAsync(IServiceProvider services, ComebackStore store, ShopSettings settings, OwnerAsks asks)
    {
        var report = await OwnerReport.ReadAsync(store, settings, TimeProvider.System, asks);
        await using var html = new HtmlRenderer(services, NullLoggerFactory.Instance);
        return await html.Dispatcher.InvokeAsync(async () =>
        {
            var parameters = ParameterView.FromDictionary(new Dictionary<string, object?> { [nameof(OwnerComebacks.Report)] = report });
            return (await html.RenderComponentAsync<OwnerComebacks>(parameters)).ToHtmlString().Length + (await html.RenderComponentAsync<OwnerWork>(parameters)).ToHtmlString().Length;
        });
    }

    private static async Task TimeAsync(string what, Func<Task<int>> work)
    {
        var (clock, processor, answer) = (new double[Rounds + 1], new double[Rounds + 1], 0);
        for (var i = 0; i <= Rounds; i++)
        {
            var (watch, start) = (Stopwatch.StartNew(), Environment.CpuUsage.TotalTime);
            answer = await work();
            (clock[i], processor[i]) = (watch.Elapsed.TotalMilliseconds, (Environment.CpuUsage.TotalTime - start).TotalMilliseconds);
        }

        Say($"{what}: {Middle(clock):0.0} ms, processor {Middle(processor):0.0} ms (first {clock[0]:0.0} ms); {answer}");
    }

    private static double Middle(double[] rounds) => rounds.Skip(1).Order().ElementAt(Rounds / 2);

    private static void Say(FormattableString line) => Console.WriteLine(line.ToString(CultureInfo.InvariantCulture));
}
