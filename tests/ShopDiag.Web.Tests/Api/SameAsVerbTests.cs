using System.Net;
using System.Text;
using ShopDiag.Web.Tests.Verbs;
using UglyToad.PdfPig;

namespace ShopDiag.Web.Tests.Api;

/// <summary>What comes over HTTP is, byte for byte, what the verb writes on standard output for the same input.</summary>
public sealed class SameAsVerbTests(ApiShop shop) : IClassFixture<ApiShop>, IDisposable
{
    private readonly string _folder = Directory.CreateTempSubdirectory("shopdiag-same-").FullName;

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    [Theory]
    [InlineData("application/x-ndjson")]
    [InlineData("application/jsonl; charset=utf-8")]
    [InlineData("application/json")]
    public async Task Diagnose(string type)
    {
        var (_, expected, _) = await Shell.RunAsync(Samples.Workups, "diagnose");
        using var answer = await shop.PostAsync("/api/v1/diagnose", Samples.Workups, type);
        Assert.Equal((HttpStatusCode.OK, "application/x-ndjson"), (answer.StatusCode, answer.Content.Headers.ContentType!.MediaType));
        Assert.Equal(6, expected.Count(c => c == '\n'));
        await SameAsync(expected, answer);
    }

    [Theory]
    [InlineData("?cylinders=4&idle=780&order=1,3,4,2", "--cylinders", "4", "--idle", "780", "--order", "1,3,4,2")]
    [InlineData("?cylinders=4", "--cylinders", "4")]
    public async Task Listen(string query, params string[] options)
    {
        using var answer = await shop.PostAsync("/api/v1/listen" + query, Samples.Sound, "audio/wav");
        Assert.Equal((HttpStatusCode.OK, "application/json"), (answer.StatusCode, answer.Content.Headers.ContentType!.MediaType));
        await SameAsync((await Shell.RunAsync("", ["listen", await FileAsync(Samples.Sound), .. options])).Output, answer);
    }

    [Fact]
    public async Task Crank()
    {
        using var answer = await shop.PostAsync("/api/v1/crank?volts=14.4&kind=coil-current", Samples.Coil, "text/csv");
        await SameAsync((await Shell.RunAsync("", "crank", await FileAsync(Encoding.UTF8.GetBytes(Samples.Coil)), "--volts", "14.4", "--kind", "coil-current")).Output, answer);
        Assert.Equal(HttpStatusCode.OK, answer.StatusCode);
    }

    [Fact]
    public async Task Decode()
    {
        using var answer = await shop.PostAsync("/api/v1/decode", Samples.Obd, "text/plain");
        await SameAsync((await Shell.RunAsync("", "decode", await FileAsync(Encoding.UTF8.GetBytes(Samples.Obd)))).Output, answer);
        Assert.Equal(HttpStatusCode.OK, answer.StatusCode);
    }

    [Theory]
    [InlineData("")]
    [InlineData("?by=technician&from=2026-01-01", "--by", "technician", "--from", "2026-01-01")]
    public async Task Comebacks(string query, params string[] options)
    {
        using var answer = await shop.GetAsync("/api/v1/comebacks" + query);
        Assert.Equal(HttpStatusCode.OK, answer.StatusCode);
        var expected = (await Shell.RunAsync("", ["comebacks", "--data", shop.Folder, .. options])).Output;
        Assert.NotEmpty(expected);
        await SameAsync(expected, answer);
    }

    // A PDF is never the same twice: it holds the time and random keys. What is read on it is.
    [Theory]
    [InlineData("/api/v1/report/customer/1003?paper=a4", "report", "customer", "1003", "FILE", "--paper", "a4")]
    [InlineData("/api/v1/report/parts/1003", "report", "parts", "1003", "FILE")]
    [InlineData("/api/v1/report/bench/1003", "report", "bench", "1003", "FILE")]
    [InlineData("/api/v1/report/invoice/1003?paper=letter", "report", "invoice", "1003", "FILE", "--paper", "letter")]
    [InlineData("/api/v1/comebacks.pdf?by=part-maker&distance=true", "comebacks", "--by", "part-maker", "--distance", "--pdf", "FILE")]
    public async Task Papers(string path, params string[] arguments)
    {
        using var answer = await shop.GetAsync(path);
        Assert.Equal((HttpStatusCode.OK, "application/pdf"), (answer.StatusCode, answer.Content.Headers.ContentType!.MediaType));
        var file = Path.Combine(_folder, "paper.pdf");
        var (code, _, errors) = await Shell.RunAsync("", [.. arguments.Select(a => a == "FILE" ? file : a), "--data", shop.Folder]);
        Assert.Equal((0, ""), (code, errors));
        Assert.Equal(Read(await File.ReadAllBytesAsync(file)), Read(await answer.Content.ReadAsByteArrayAsync()));
    }

    private static async Task SameAsync(string expected, HttpResponseMessage answer) => Assert.Equal(Encoding.UTF8.GetBytes(expected), await answer.Content.ReadAsByteArrayAsync());

    private static string Read(byte[] bytes)
    {
        using var pdf = PdfDocument.Open(bytes);
        return string.Join("\n", pdf.GetPages().Select(p => $"{p.Width}x{p.Height} {p.Text}"));
    }

    private async Task<string> FileAsync(byte[] bytes)
    {
        var file = Path.Combine(_folder, "sent");
        await File.WriteAllBytesAsync(file, bytes);
        return file;
    }
}
