using System.Net;
using System.Text;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.Extensions.DependencyInjection;
using ShopDiag.Storage.Shop;
using ShopDiag.Storage.Writing;
using ShopDiag.Web.Tests.Integration;

namespace ShopDiag.Web.Tests.Running;

public sealed class RunningTests
{
    [Fact]
    public async Task Ready_says_in_a_line_each_what_is_well_and_nothing_of_the_shop()
    {
        await using var shop = await StartAsync();
        using var answer = await shop.Client.GetAsync(new Uri("/health/ready", UriKind.Relative));
        var text = await answer.Content.ReadAsStringAsync();
        Assert.Equal(HttpStatusCode.OK, answer.StatusCode);
        Assert.Contains("records: Healthy", text, StringComparison.Ordinal);
        Assert.Contains("backup: Healthy", text, StringComparison.Ordinal);
        Assert.DoesNotContain(shop.DataFolder, text, StringComparison.Ordinal);
        Assert.DoesNotContain("Garage", text, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Not_ready_while_nothing_can_be_saved()
    {
        await using var shop = await StartAsync();
        shop.Services.GetRequiredService<StorageTrouble>().Note(new Microsoft.Data.Sqlite.SqliteException("full", 13));
        using var answer = await shop.Client.GetAsync(new Uri("/health/ready", UriKind.Relative));
        Assert.Equal(HttpStatusCode.ServiceUnavailable, answer.StatusCode);
        Assert.Contains("Nothing can be saved", await answer.Content.ReadAsStringAsync(), StringComparison.Ordinal);
        // The process answers all the same, and pages can be read.
        Assert.Equal("ok", await shop.Client.GetStringAsync(new Uri("/health/live", UriKind.Relative)));
        Assert.Contains("id=\"saving\"", await shop.Client.GetStringAsync(new Uri("/orders", UriKind.Relative)), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Metrics_go_to_a_collector_only_where_one_is_named()
    {
        await using var collector = await Collector.StartAsync();
        await using (var silent = await StartAsync())
        {
            Assert.Empty(silent.Services.GetServices<OpenTelemetry.Metrics.MeterProvider>());
        }

        await using (var shop = await StartAsync("--OTEL_EXPORTER_OTLP_ENDPOINT", collector.Url, "--OTEL_EXPORTER_OTLP_PROTOCOL", "http/protobuf"))
        {
            await shop.Client.GetStringAsync(new Uri("/find?q=Quillfeather", UriKind.Relative));
            await shop.Services.GetRequiredService<ShopStore>().TryWritingAsync();
        }

        var sent = Assert.Single(collector.Bodies.Keys.Distinct());
        Assert.Equal("/v1/metrics", sent);
        var text = string.Concat(collector.Bodies.Values);
        Assert.Contains("shopdiag.commit.duration", text, StringComparison.Ordinal);
        Assert.Contains("shopdiag.tablets.connected", text, StringComparison.Ordinal);
        Assert.Contains("http.server.request.duration", text, StringComparison.Ordinal);
        Assert.DoesNotContain("Quillfeather", text, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Who_asks_too_often_is_told_when_to_come_back_and_others_go_on()
    {
        await using var shop = await StartAsync("--Limits:Made", "3", "--Limits:Sent", "2");
        var paper = new Uri($"/orders/{shop.OrderNumber}/customer.pdf", UriKind.Relative);
        var codes = new List<HttpStatusCode>();
        for (var i = 0; i < 6; i++)
        {
            using var answer = await shop.Client.GetAsync(paper);
            codes.Add(answer.StatusCode);
            if (answer.StatusCode == HttpStatusCode.TooManyRequests)
            {
                Assert.InRange(answer.Headers.RetryAfter!.Delta!.Value.TotalSeconds, 1, 60);
                Assert.Contains("Wait a moment", await answer.Content.ReadAsStringAsync(), StringComparison.Ordinal);
            }
        }

        Assert.Equal([HttpStatusCode.OK, HttpStatusCode.OK, HttpStatusCode.OK], codes[..3]);
        Assert.Contains(HttpStatusCode.TooManyRequests, codes[3..]);
        // Pages, files and health are counted apart or not at all.
        Assert.True((await shop.Client.GetAsync(new Uri("/orders", UriKind.Relative))).IsSuccessStatusCode);
        for (var i = 0; i < 50; i++)
        {
            Assert.True((await shop.Client.GetAsync(new Uri("/health/live", UriKind.Relative))).IsSuccessStatusCode);
        }
    }

    private static async Task<RunningShop> StartAsync(params string[] settings)
    {
        var shop = new RunningShop { Settings = settings };
        await shop.InitializeAsync();
        return shop;
    }

    /// <summary>What a collector hears.</summary>
    private sealed class Collector : IAsyncDisposable
    {
        private readonly WebApplication _app;

        private Collector(WebApplication app) => _app = app;

        public System.Collections.Concurrent.ConcurrentDictionary<string, string> Bodies { get; } = new();

        public string Url => _app.Urls.Single();

        public static async Task<Collector> StartAsync()
        {
            var builder = WebApplication.CreateSlimBuilder();
            builder.WebHost.UseSetting("urls", "http://127.0.0.1:0");
            var collector = new Collector(builder.Build());
            collector._app.MapPost("/{**path}", async (HttpRequest request) =>
            {
                using var body = new MemoryStream();
                await request.Body.CopyToAsync(body);
                collector.Bodies.AddOrUpdate(request.Path, Encoding.Latin1.GetString(body.ToArray()), (_, before) => before + Encoding.Latin1.GetString(body.ToArray()));
            });
            await collector._app.StartAsync();
            return collector;
        }

        public async ValueTask DisposeAsync() => await _app.DisposeAsync();
    }
}
