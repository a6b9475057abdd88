using System.Net;
using System.Net.Http.Headers;
using System.Text;
using Microsoft.Extensions.DependencyInjection;
using ShopDiag.Diagnosis;
using ShopDiag.Signals.Measured.Engines;
using ShopDiag.Storage.Orders;
using ShopDiag.Storage.Recordings;
using ShopDiag.Web.BalanceRuns;
using ShopDiag.Web.Tests.Integration;

namespace ShopDiag.Web.Tests.BalanceRuns;

public sealed class RecordingEndpointTests(RunningShop shop) : IClassFixture<RunningShop>
{
    private static readonly byte[] Wav = WavFile.Of(new float[16000 * 3], 16000);

    private OrderStore Orders => shop.Services.GetRequiredService<OrderStore>();

    private RecordingStore Recordings => shop.Services.GetRequiredService<RecordingStore>();

    [Fact]
    public async Task A_recording_is_kept_with_the_order_and_played_in_pieces()
    {
        var (number, id) = (await FourAsync(), Guid.NewGuid());
        using var kept = await PutAsync(number, id, Wav, "&order=1,3,4,2&rough=750&stage=after&by=Rosa");
        using var again = await PutAsync(number, id, Wav);
        var row = (await Recordings.GetAsync(id))!;

        Assert.Equal((HttpStatusCode.OK, HttpStatusCode.OK), (kept.StatusCode, again.StatusCode));
        Assert.Equal([1, 3, 4, 2], row.Plan.Order);
        Assert.Equal((750.0, "Rosa", 3.0, 4, true), (row.Plan.RoughRpm, row.By, row.Seconds, row.Cylinders, row.Finished));

        using var request = new HttpRequestMessage(HttpMethod.Get, Path(number, id)) { Headers = { Range = new RangeHeaderValue(44, 143) } };
        using var piece = await shop.Client.SendAsync(request);
        Assert.Equal((HttpStatusCode.PartialContent, "audio/wav", 100L), (piece.StatusCode, piece.Content.Headers.ContentType!.MediaType, piece.Content.Headers.ContentLength));
        Assert.Equal("nosniff", Assert.Single(piece.Headers.GetValues("X-Content-Type-Options")));
    }

    [Fact]
    public async Task A_log_is_kept_and_comes_back_as_a_file()
    {
        var (number, id) = (await FourAsync(), Guid.NewGuid());
        var log = "Time (s),Engine RPM\n" + string.Concat(Enumerable.Range(0, 50).Select(i => $"{i / 2.0},{750 + (i % 3)}\n"));
        using var kept = await PutAsync(number, id, Encoding.UTF8.GetBytes(log), kind: "csv");
        using var file = await shop.Client.GetAsync(new Uri(Path(number, id), UriKind.Relative));

        Assert.Equal(HttpStatusCode.OK, kept.StatusCode);
        Assert.Equal(("text/csv", "attachment"), (file.Content.Headers.ContentType!.MediaType, file.Content.Headers.ContentDisposition!.DispositionType));
    }

    [Fact]
    public async Task It_is_not_given_out_under_another_order_nor_after_it_was_deleted()
    {
        var (number, id) = (await FourAsync(), Guid.NewGuid());
        using var kept = await PutAsync(number, id, Wav);
        using var other = await shop.Client.GetAsync(new Uri(Path(await FourAsync(), id), UriKind.Relative));
        await Recordings.SetRemovedAsync(id, true);
        using var gone = await shop.Client.GetAsync(new Uri(Path(number, id), UriKind.Relative));
        using var taken = await PutAsync(await FourAsync(), id, Wav);

        Assert.Equal((HttpStatusCode.NotFound, HttpStatusCode.NotFound, HttpStatusCode.Conflict), (other.StatusCode, gone.StatusCode, taken.StatusCode));
    }

    [Theory]
    [InlineData("..%2F..%2Fshop.db")]
    [InlineData("%2e%2e/%2e%2e/shop.db")]
    [InlineData("../../../shop.db")]
    [InlineData("shop.db")]
    [InlineData("C:%5Cshop.db")]
    [InlineData("00000000-0000-0000-0000-000000000000%2F..%2Fshop.db")]
    public async Task No_name_leads_out_of_the_folder(string name)
    {
        using var read = await shop.Client.GetAsync(new Uri($"/orders/{shop.OrderNumber}/recordings/{name}", UriKind.Relative));
        using var content = new ByteArrayContent(Wav);
        using var written = await shop.Client.PutAsync(new Uri($"/orders/{shop.OrderNumber}/recordings/{name}?kind=wav", UriKind.Relative), content);

        Assert.Equal(HttpStatusCode.NotFound, read.StatusCode);
        Assert.True(written.StatusCode is HttpStatusCode.NotFound or HttpStatusCode.MethodNotAllowed, $"{written.StatusCode}");
    }

    [Theory]
    [InlineData("wav", "no sound at all")]
    [InlineData("csv", "nothing\nto\nread\n")]
    [InlineData("exe", "RIFF")]
    public async Task What_is_no_recording_is_refused_in_words_and_leaves_no_file(string kind, string content)
    {
        var (number, id) = (await FourAsync(), Guid.NewGuid());
        using var answer = await PutAsync(number, id, Encoding.UTF8.GetBytes(content), kind: kind);

        Assert.Equal(HttpStatusCode.BadRequest, answer.StatusCode);
        Assert.True((await answer.Content.ReadAsStringAsync()).Length > 15);
        Assert.Null(await Recordings.GetAsync(id));
        Assert.Null(Recordings.OpenFile(id, RecordingKind.Sound));
        Assert.Null(Recordings.OpenFile(id, RecordingKind.SpeedLog));
    }

    [Fact]
    public async Task Too_short_too_long_and_an_order_without_an_engine_are_said()
    {
        var number = await FourAsync();
        using var brief = await PutAsync(number, Guid.NewGuid(), WavFile.Of(new float[8000], 8000));
        using var endless = await PutAsync(number, Guid.NewGuid(), WavFile.Of(new float[8000 * 901], 8000));
        using var none = await PutAsync(shop.OrderNumber, Guid.NewGuid(), Wav);

        Assert.Contains("too short", await brief.Content.ReadAsStringAsync(), StringComparison.Ordinal);
        Assert.Contains("longer than 15 minutes", await endless.Content.ReadAsStringAsync(), StringComparison.Ordinal);
        Assert.Contains("engine first", await none.Content.ReadAsStringAsync(), StringComparison.Ordinal);
    }

    private static string Path(int number, Guid id) => RecordingEndpoints.Address(number, id);

    private async Task<int> FourAsync()
    {
        var order = await Orders.OpenAsync(Guid.NewGuid(), "Ann");
        var four = Knowledge.Shipped.Profiles.First(p => p.Spec.FiringOrder.Length == 4);
        await Orders.SetEngineAsync(order.Id, four.Spec, four.Title, Guid.NewGuid(), "Ann");
        return order.Number;
    }

    private async Task<HttpResponseMessage> PutAsync(int number, Guid id, byte[] bytes, string more = "", string kind = "wav")
    {
        using var content = new ByteArrayContent(bytes);
        return await shop.Client.PutAsync(new Uri($"{Path(number, id)}?kind={kind}{more}", UriKind.Relative), content);
    }
}
