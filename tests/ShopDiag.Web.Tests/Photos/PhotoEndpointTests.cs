using System.Net;
using System.Text;
using System.Text.Json;
using Microsoft.Extensions.DependencyInjection;
using ShopDiag.Diagnosis;
using ShopDiag.Diagnosis.BenchTests;
using ShopDiag.Storage.Orders;
using ShopDiag.Storage.Photos;
using ShopDiag.Web.Photos;
using ShopDiag.Web.Tests.Integration;
using SkiaSharp;

namespace ShopDiag.Web.Tests.Photos;

public sealed class PhotoEndpointTests(RunningShop shop) : IClassFixture<RunningShop>
{
    private static readonly byte[] Good = Pictures.WithExif(Pictures.Quarters(2000, 1500), 1);

    private OrderStore Orders => shop.Services.GetRequiredService<OrderStore>();

    private PhotoStore Photos => shop.Services.GetRequiredService<PhotoStore>();

    [Fact]
    public async Task A_photo_is_kept_with_the_order_and_shown_in_both_sizes()
    {
        var (order, id) = (await FourAsync(), Guid.NewGuid());
        var taken = DateTimeOffset.UtcNow.AddMinutes(-5).ToUnixTimeMilliseconds();
        using var kept = await PutAsync(order.Number, id, Good, $"test=borescope&at=c3&stage=after&by=Rosa&name=IMG_1.jpg&taken={taken}");
        Assert.Equal(HttpStatusCode.OK, kept.StatusCode);

        var photo = Assert.Single(await Photos.OfOrderAsync(order.Id));
        Assert.Equal(("borescope", Place.Cylinder(3), Stage.After, "Rosa"), (photo.Test, photo.At, photo.Stage, photo.By));
        Assert.Equal((1600, 1200, taken), (photo.Width, photo.Height, new DateTimeOffset(photo.TakenAt).ToUnixTimeMilliseconds()));

        foreach (var (size, longest) in new[] { (PhotoSize.Full, 1600), (PhotoSize.Small, 320) })
        {
            using var shown = await GetAsync(order.Number, id, size);
            var bytes = await shown.Content.ReadAsByteArrayAsync();
            using var bitmap = SKBitmap.Decode(bytes);
            Assert.Equal(longest, bitmap.Width);
            Assert.False(Pictures.Holds(bytes, "Exif") || Pictures.Holds(bytes, "SECRET"));
            Assert.Equal("image/jpeg", shown.Content.Headers.ContentType!.MediaType);
            Assert.Equal("nosniff", Assert.Single(shown.Headers.GetValues("X-Content-Type-Options")));
            Assert.Equal("inline", shown.Content.Headers.ContentDisposition!.DispositionType);
        }

        Assert.DoesNotContain(Directory.GetFiles(Path.Combine(shop.DataFolder, "photos")), f => Pictures.Holds(File.ReadAllBytes(f), "SECRET"));
    }

    [Fact]
    public async Task The_browser_keeps_a_picture_and_asks_whether_it_may_still_show_it()
    {
        var (order, id) = (await FourAsync(), Guid.NewGuid());
        using var kept = await PutAsync(order.Number, id, Good);
        using var shown = await GetAsync(order.Number, id, PhotoSize.Full);
        Assert.Equal("no-cache, private", shown.Headers.CacheControl!.ToString());

        using var again = new HttpRequestMessage(HttpMethod.Get, At(order.Number, id, PhotoSize.Full));
        again.Headers.IfNoneMatch.Add(shown.Headers.ETag!);
        using var unchanged = await shop.Client.SendAsync(again);
        Assert.Equal(HttpStatusCode.NotModified, unchanged.StatusCode);
    }

    [Fact]
    public async Task Sending_it_again_is_harmless_also_at_the_same_time()
    {
        var (order, id) = (await FourAsync(), Guid.NewGuid());
        var answers = await Task.WhenAll(Enumerable.Range(0, 6).Select(_ => PutAsync(order.Number, id, Good)));
        using var other = await PutAsync(order.Number, id, Pictures.Quarters(50, 50));
        Assert.All(answers.Append(other), a => Assert.Equal(HttpStatusCode.OK, a.StatusCode));
        Assert.Equal(1600, Assert.Single(await Photos.OfOrderAsync(order.Id)).Width);
        Array.ForEach(answers, a => a.Dispose());
    }

    [Fact]
    public async Task It_is_not_given_out_under_another_order_nor_after_it_was_deleted()
    {
        var (order, other, id) = (await FourAsync(), await FourAsync(), Guid.NewGuid());
        using var kept = await PutAsync(order.Number, id, Good);
        using var elsewhere = await GetAsync(other.Number, id, PhotoSize.Small);
        using var taken = await PutAsync(other.Number, id, Good);
        await Photos.SetRemovedAsync(id, true, Guid.NewGuid(), "Rosa");
        using var gone = await GetAsync(order.Number, id, PhotoSize.Full);
        await Photos.SetRemovedAsync(id, false, Guid.NewGuid(), "Rosa");
        using var back = await GetAsync(order.Number, id, PhotoSize.Full);

        Assert.Equal((HttpStatusCode.NotFound, HttpStatusCode.Conflict), (elsewhere.StatusCode, taken.StatusCode));
        Assert.Equal((HttpStatusCode.NotFound, HttpStatusCode.OK), (gone.StatusCode, back.StatusCode));
    }

    [Fact]
    public async Task What_is_no_picture_is_refused_by_the_name_of_its_file_and_leaves_nothing()
    {
        var order = await FourAsync();
        foreach (var (bytes, word) in new[]
        {
            (Encoding.ASCII.GetBytes("no picture at all"), "no JPEG, PNG or WebP"),
            (Encoding.ASCII.GetBytes("<svg xmlns='http://www.w3.org/2000/svg'/>"), "no JPEG, PNG or WebP"),
            (Good[..(Good.Length / 2)], "cut off"),
            (Pictures.PngOfSize(30_000, 30_000), "30000 x 30000"),
        })
        {
            var id = Guid.NewGuid();
            using var answer = await PutAsync(order.Number, id, bytes, "test=borescope&at=c1&name=plug%20four.jpg");
            var words = JsonSerializer.Deserialize<string>(await answer.Content.ReadAsStringAsync())!;
            Assert.Equal(HttpStatusCode.BadRequest, answer.StatusCode);
            Assert.StartsWith("plug four.jpg: ", words, StringComparison.Ordinal);
            Assert.Contains(word, words, StringComparison.Ordinal);
            Assert.Null(await Photos.GetAsync(id));
            Assert.Null(Photos.OpenFile(id, PhotoSize.Full));
        }
    }

    [Fact]
    public async Task A_file_that_is_too_large_is_refused_in_words()
    {
        var order = await FourAsync();
        using var content = new ByteArrayContent(new byte[PhotoPicture.LargestBytes + 1]);
        using var request = new HttpRequestMessage(HttpMethod.Put, $"{At(order.Number, Guid.NewGuid(), PhotoSize.Full)}?test=borescope&at=c1&name=big.png") { Content = content };
        // Asks before it sends: otherwise the answer comes, and the line is closed, while most of the file is still on its way.
        request.Headers.ExpectContinue = true;
        using var patient = new SocketsHttpHandler { Expect100ContinueTimeout = TimeSpan.FromMinutes(1), CookieContainer = shop.Cookies };
        using var client = new HttpClient(patient) { BaseAddress = shop.Client.BaseAddress };
        using var answer = await client.SendAsync(request);
        Assert.Equal(HttpStatusCode.RequestEntityTooLarge, answer.StatusCode);
        Assert.Equal("big.png: It is larger than 15 MB. Choose a smaller size on the camera.", JsonSerializer.Deserialize<string>(await answer.Content.ReadAsStringAsync()));
    }

    [Theory]
    [InlineData("test=borescope&at=c5", HttpStatusCode.Conflict)]
    [InlineData("test=borescope&at=e", HttpStatusCode.BadRequest)]
    [InlineData("test=borescope&at=nowhere", HttpStatusCode.BadRequest)]
    [InlineData("test=nothing&at=c1", HttpStatusCode.BadRequest)]
    [InlineData("at=c1", HttpStatusCode.BadRequest)]
    public async Task A_place_or_a_test_that_is_not_there_is_refused(string about, HttpStatusCode expected)
    {
        using var answer = await PutAsync((await FourAsync()).Number, Guid.NewGuid(), Good, about);
        Assert.Equal(expected, answer.StatusCode);
    }

    [Fact]
    public async Task A_photo_for_an_order_that_is_not_there_is_refused()
    {
        using var answer = await PutAsync(999_999, Guid.NewGuid(), Good);
        Assert.Equal(HttpStatusCode.NotFound, answer.StatusCode);
    }

    [Theory]
    [InlineData("..%2F..%2Fshop.db")]
    [InlineData("../../../shop.db")]
    [InlineData("shop.db")]
    [InlineData("00000000-0000-0000-0000-000000000000%2F..%2Fshop.db")]
    public async Task No_name_leads_out_of_the_folder(string name)
    {
        using var read = await shop.Client.GetAsync(new Uri($"/orders/{shop.OrderNumber}/photos/{name}", UriKind.Relative));
        Assert.Equal(HttpStatusCode.NotFound, read.StatusCode);
    }

    [Fact]
    public async Task A_clock_that_is_wrong_does_not_date_a_photo()
    {
        var order = await FourAsync();
        var before = DateTime.UtcNow.AddMinutes(-1);
        foreach (var taken in new[] { long.MaxValue, long.MinValue, 0, DateTimeOffset.UtcNow.AddYears(1).ToUnixTimeMilliseconds() })
        {
            using var kept = await PutAsync(order.Number, Guid.NewGuid(), Good, $"test=borescope&at=c1&taken={taken}");
            Assert.Equal(HttpStatusCode.OK, kept.StatusCode);
        }

        Assert.All(await Photos.OfOrderAsync(order.Id), p => Assert.InRange(p.TakenAt, before, DateTime.UtcNow));
    }

    [Fact]
    public async Task What_was_chosen_for_paper_comes_with_its_caption_and_marks_and_nothing_else_comes()
    {
        var (order, chosen, other) = (await FourAsync(), Guid.NewGuid(), Guid.NewGuid());
        foreach (var id in new[] { chosen, other })
        {
            using var kept = await PutAsync(order.Number, id, Good);
        }

        await Photos.SetInReportAsync(chosen, true, Guid.NewGuid(), "Rosa");
        await Photos.SetCaptionAsync(chosen, "Cracked insulator", null, Guid.NewGuid(), "Rosa");
        await Photos.SetMarksAsync(chosen, "[[0.1,0.2,0.3,0.4]]", null, Guid.NewGuid(), "Rosa");

        var photo = Assert.Single(await new PhotosForPaper(Photos).OfAsync((await Orders.GetAsync(order.Id))!));

        Assert.Equal(("Cracked insulator", "borescope", Place.Cylinder(1), 1600, 1200), (photo.Caption, photo.Test, photo.At, photo.Width, photo.Height));
        Assert.Equal(2, Assert.Single(photo.Strokes).Points.Length);
        using var bitmap = SKBitmap.Decode(photo.Jpeg);
        Assert.Equal(1600, bitmap.Width);
    }

    private static Uri At(int number, Guid id, PhotoSize size) => new(PhotoEndpoints.Address(number, id, size), UriKind.Relative);

    private Task<HttpResponseMessage> GetAsync(int number, Guid id, PhotoSize size) => shop.Client.GetAsync(At(number, id, size));

    private async Task<RepairOrder> FourAsync()
    {
        var order = await Orders.OpenAsync(Guid.NewGuid(), "Ann");
        var four = Knowledge.Shipped.Profiles.First(p => p.Spec.FiringOrder.Length == 4);
        await Orders.SetEngineAsync(order.Id, four.Spec, four.Title, Guid.NewGuid(), "Ann");
        return order;
    }

    private async Task<HttpResponseMessage> PutAsync(int number, Guid id, byte[] bytes, string about = "test=borescope&at=c1")
    {
        using var content = new ByteArrayContent(bytes);
        return await shop.Client.PutAsync(new Uri($"{At(number, id, PhotoSize.Full)}?{about}", UriKind.Relative), content);
    }
}
