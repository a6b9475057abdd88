using System.Net;
using System.Net.Http.Headers;
using System.Text;
using System.Text.Json.Nodes;

namespace ShopDiag.Web.Tests.Api;

/// <summary>Whatever is wrong comes as problem details (RFC 9457), with what, where and what to do.</summary>
public sealed class ApiProblemTests(ApiShop shop) : IClassFixture<ApiShop>
{
    [Theory]
    // What is wrong in the query.
    [InlineData("/api/v1/listen", "cylinders", "has to be said")]
    [InlineData("/api/v1/listen?cylinders=four", "cylinders", "whole number")]
    [InlineData("/api/v1/listen?cylinders=99", "cylinders", "12")]
    [InlineData("/api/v1/listen?cylinders=4&order=1,3,4,9", "order", "from 1 to 4")]
    [InlineData("/api/v1/listen?cylinders=4&time=years", "time", "ms")]
    [InlineData("/api/v1/listen?cylinders=4&cylinders=6", "cylinders", "one value")]
    [InlineData("/api/v1/listen?cylinders=4&volume=11", "volume", "no such choice")]
    [InlineData("/api/v1/listen?cylinders=", "cylinders", "one value")]
    // Options of the console alone, and what would be read from a file of the server.
    [InlineData("/api/v1/listen?cylinders=4&data=/etc", "data", "no such choice")]
    [InlineData("/api/v1/listen?cylinders=@/etc/hostname", "cylinders", "'@/etc/hostname'")]
    [InlineData("/api/v1/crank?kind=music", "kind", "cranking-current")]
    [InlineData("/api/v1/crank?no-fuel=soon", "no-fuel", "12-14.5")]
    public async Task What_is_wrong_in_the_query_is_named(string path, string at, string says)
    {
        using var answer = await shop.PostAsync(path, "x", "text/csv");
        await IsProblemAsync(answer, HttpStatusCode.BadRequest, at, says);
    }

    [Theory]
    [InlineData("/api/v1/comebacks?by=mood", "by", "diagnosis")]
    [InlineData("/api/v1/comebacks?from=yesterday", "from", "2026-01-31")]
    [InlineData("/api/v1/comebacks?pdf=/tmp/x.pdf", "pdf", "no such choice")]
    [InlineData("/api/v1/comebacks?paper=a4", "paper", "no such choice")]
    [InlineData("/api/v1/comebacks.pdf?paper=a0", "paper", "letter")]
    [InlineData("/api/v1/report/parts/1003?paper=a0", "paper", "letter")]
    public async Task So_it_is_where_nothing_is_sent(string path, string at, string says)
    {
        using var answer = await shop.GetAsync(path);
        await IsProblemAsync(answer, HttpStatusCode.BadRequest, at, says);
    }

    [Theory]
    [InlineData("/api/v1/listen?cylinders=4", "ID3 compressed sound", "audio/wav", null, "MP3")]
    [InlineData("/api/v1/listen?cylinders=4", "", "audio/wav", null, "")]
    [InlineData("/api/v1/crank?cylinders=4", "a,b\n", "text/csv", null, "")]
    [InlineData("/api/v1/decode", "", "text/plain", null, "")]
    public async Task What_cannot_be_read_is_said_in_the_words_of_the_verb(string path, string sent, string type, string? at, string says)
    {
        using var answer = await shop.PostAsync(path, sent, type);
        await IsProblemAsync(answer, HttpStatusCode.UnprocessableEntity, at, says);
    }

    [Theory]
    [InlineData(null)]
    [InlineData("application/x-www-form-urlencoded")]
    [InlineData("image/png")]
    [InlineData("application/x-ndjson; charset=utf-16")]
    [InlineData("so-so")]
    public async Task What_is_not_taken_is_said_with_what_is(string? type)
    {
        using var answer = await shop.PostAsync("/api/v1/diagnose", "{}", type);
        await IsProblemAsync(answer, HttpStatusCode.UnsupportedMediaType, "Content-Type", type?.Contains("utf-16", StringComparison.Ordinal) == true ? "UTF-8" : "application/x-ndjson");
    }

    [Fact]
    public async Task What_is_packed_is_not_unpacked()
    {
        using var request = new HttpRequestMessage(HttpMethod.Post, "/api/v1/diagnose") { Content = new StringContent("{}", Encoding.UTF8, "application/json") };
        request.Content.Headers.ContentEncoding.Add("gzip");
        using var answer = await shop.Program.SendAsync(request);
        await IsProblemAsync(answer, HttpStatusCode.UnsupportedMediaType, "Content-Encoding", "Content-Encoding");
    }

    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public async Task More_than_is_taken_is_refused_whether_announced_or_not(bool announced)
    {
        using var content = new StreamContent(new Endless(10_000_001, announced));
        content.Headers.ContentType = MediaTypeHeaderValue.Parse("application/x-ndjson");
        using var request = new HttpRequestMessage(HttpMethod.Post, "/api/v1/diagnose") { Content = content, Headers = { ExpectContinue = true, TransferEncodingChunked = !announced } };
        using var answer = await shop.Program.SendAsync(request);
        await IsProblemAsync(answer, HttpStatusCode.RequestEntityTooLarge, null, "10 MB");
    }

    [Theory]
    [InlineData("GET", "/api/v1/nothing", 404, "openapi.json")]
    [InlineData("GET", "/api/v2/comebacks", 404, "openapi.json")]
    [InlineData("GET", "/api", 404, "openapi.json")]
    [InlineData("GET", "/api/v1/report/parts/many", 404, "openapi.json")]
    [InlineData("GET", "/api/v1/report/parts/999999", 404, "no order 999999")]
    [InlineData("GET", "/api/v1/report/backup/1003", 404, "openapi.json")]
    [InlineData("GET", "/api/v1/diagnose", 405, "Allow")]
    [InlineData("PUT", "/api/v1/diagnose", 405, "Allow")]
    [InlineData("DELETE", "/api/v1/report/parts/1003", 405, "Allow")]
    public async Task What_leads_nowhere_says_so(string method, string path, int status, string says)
    {
        using var request = new HttpRequestMessage(new(method), path);
        using var answer = await shop.Program.SendAsync(request);
        await IsProblemAsync(answer, (HttpStatusCode)status, status == 404 && says.StartsWith("no order", StringComparison.Ordinal) ? "order" : null, says);
        Assert.Equal(status == 405, answer.Content.Headers.Allow.Count > 0);
    }

    [Fact]
    public async Task A_paper_that_cannot_be_made_yet_says_what_is_missing()
    {
        var order = await NewOrderAsync();
        using var answer = await shop.GetAsync($"/api/v1/report/bench/{order}");
        await IsProblemAsync(answer, HttpStatusCode.Conflict, "order", "Choose the engine");
    }

    private async Task<int> NewOrderAsync()
    {
        await using var scope = Web.People.PeopleServices.CreateProgramScope(shop.App.Services);
        return (await Microsoft.Extensions.DependencyInjection.ServiceProviderServiceExtensions.GetRequiredService<Storage.Orders.OrderStore>(scope.ServiceProvider).OpenAsync(Guid.NewGuid(), "Ann")).Number;
    }

    private static async Task IsProblemAsync(HttpResponseMessage answer, HttpStatusCode status, string? at, string says)
    {
        var text = await answer.Content.ReadAsStringAsync();
        Assert.True(status == answer.StatusCode && answer.Content.Headers.ContentType?.MediaType == "application/problem+json", $"{answer.StatusCode} {answer.Content.Headers.ContentType} {text}");
        Assert.True(answer.Headers.CacheControl?.NoStore);
        var problem = JsonNode.Parse(text)!.AsObject();
        Assert.Equal(((int)status, "about:blank"), ((int)problem["status"]!, (string)problem["type"]!));
        Assert.Equal(at, (string?)problem["at"]);
        Assert.NotEmpty((string)problem["title"]!);
        Assert.Contains(says, (string)problem["detail"]!, StringComparison.OrdinalIgnoreCase);
        // Nothing of the inside: no types, no traces, no folders of the computer.
        Assert.DoesNotContain("System.", text, StringComparison.Ordinal);
        Assert.DoesNotContain("   at ", text, StringComparison.Ordinal);
    }

    /// <summary>As many blanks as it says.</summary>
    private sealed class Endless(long bytes, bool announced) : Stream
    {
        private long _sent;

        public override bool CanRead => true;

        public override bool CanSeek => announced;

        public override bool CanWrite => false;

        public override long Length => announced ? bytes : throw new NotSupportedException();

        public override long Position { get => _sent; set => _sent = value; }

        public override int Read(byte[] buffer, int offset, int count)
        {
            var now = (int)Math.Min(count, bytes - _sent);
            buffer.AsSpan(offset, now).Fill((byte)' ');
            _sent += now;
            return now;
        }

        public override void Flush()
        {
        }

        public override long Seek(long offset, SeekOrigin origin) => throw new NotSupportedException();

        public override void SetLength(long value) => throw new NotSupportedException();

        public override void Write(byte[] buffer, int offset, int count) => throw new NotSupportedException();
    }
}
