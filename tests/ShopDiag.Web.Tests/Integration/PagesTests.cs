using System.Net;
using System.Text.RegularExpressions;

namespace ShopDiag.Web.Tests.Integration;

public sealed partial class PagesTests(RunningShop shop) : IClassFixture<RunningShop>
{
    public static TheoryData<string> Pages =>
        ["/", "/orders", "/orders/new", "/orders/1001", "/orders/1001/workup", "/orders/1001/balance-run", "/find?q=x", "/reference", "/reference/tests/spark-output", "/reference/causes/coil-failed", "/settings", "/shop/learning", "/shop/prices", "/parts", "/owner", "/owner/backups", "/owner/customers", "/owner/running"];

    [Theory]
    [MemberData(nameof(Pages))]
    public async Task Every_page_answers_with_the_bar_and_the_shops_name(string path)
    {
        using var answer = await shop.Client.GetAsync(new Uri(path, UriKind.Relative));
        var html = await answer.Content.ReadAsStringAsync();
        Assert.Equal(HttpStatusCode.OK, answer.StatusCode);
        Assert.Contains("Ann &amp; Sons &lt;Garage&gt;", html, StringComparison.Ordinal);
        Assert.Contains("id=\"saving\"", html, StringComparison.Ordinal);
        Assert.Contains("autostart=\"false\"", html, StringComparison.Ordinal);
        // A call that Razor took for an address stands on the page as it was written.
        Assert.DoesNotMatch(@"\w@[A-Z]\w*\(", html);
    }

    [Theory]
    [MemberData(nameof(Pages))]
    public async Task No_working_page_is_rendered_before_its_circuit_starts(string path)
    {
        var html = await shop.Client.GetStringAsync(new Uri(path, UriKind.Relative));
        Assert.DoesNotContain("<main", html, StringComparison.Ordinal);
        Assert.Contains("Blazor:{\"type\":\"server\"", html, StringComparison.Ordinal);
        Assert.DoesNotContain("prerenderId", html, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("/orders")]
    [InlineData("/no-such-page")]
    [InlineData("/js/journal.js")]
    public async Task Every_answer_carries_the_security_headers(string path)
    {
        using var answer = await shop.Client.GetAsync(new Uri(path, UriKind.Relative));
        var policy = Assert.Single(answer.Headers.GetValues("Content-Security-Policy"));
        Assert.Contains("script-src 'self';", policy, StringComparison.Ordinal);
        Assert.Contains("frame-ancestors 'none'", policy, StringComparison.Ordinal);
        Assert.Contains("object-src 'none'", policy, StringComparison.Ordinal);
        Assert.DoesNotContain("unsafe-eval", policy, StringComparison.Ordinal);
        Assert.Equal(
            ("nosniff", "same-origin", "DENY", "same-origin"),
            (Header(answer, "X-Content-Type-Options"), Header(answer, "Referrer-Policy"), Header(answer, "X-Frame-Options"), Header(answer, "Cross-Origin-Opener-Policy")));
        Assert.False(answer.Headers.Contains("Server"));
    }

    [Fact]
    public async Task No_page_has_a_script_or_a_handler_in_its_text()
    {
        var html = await shop.Client.GetStringAsync(new Uri("/orders", UriKind.Relative));
        Assert.DoesNotMatch(InlineScript(), html);
        Assert.DoesNotMatch(InlineHandler(), html);
    }

    [Fact]
    public async Task Pages_are_not_kept_by_the_browser_and_every_file_they_name_is_there()
    {
        using var page = await shop.Client.GetAsync(new Uri("/orders", UriKind.Relative));
        Assert.True(page.Headers.CacheControl!.NoStore);
        var files = FileReference().Matches(await page.Content.ReadAsStringAsync()).Select(m => m.Groups[1].Value).ToList();
        Assert.True(files.Count >= 10, $"only {files.Count} files are named");
        foreach (var file in files.Append("fonts/ibm-plex-sans-latin-400-normal.woff2"))
        {
            using var answer = await shop.Client.GetAsync(new Uri("/" + file, UriKind.Relative));
            Assert.True(answer.IsSuccessStatusCode, $"{file}: {answer.StatusCode}");
        }
    }

    [Fact]
    public async Task An_address_that_leads_nowhere_says_so_in_words_and_by_its_code()
    {
        using var answer = await shop.Client.GetAsync(new Uri("/no-such-page", UriKind.Relative));
        var html = await answer.Content.ReadAsStringAsync();
        Assert.Equal(HttpStatusCode.NotFound, answer.StatusCode);
        Assert.Contains("There is nothing at this address", html, StringComparison.Ordinal);
        Assert.DoesNotContain("Blazor:{\"type\":\"server\"", html, StringComparison.Ordinal);
    }

    [Fact]
    public async Task The_error_page_gives_an_incident_number()
    {
        var html = await shop.Client.GetStringAsync(new Uri("/error", UriKind.Relative));
        Assert.Matches("incident number: <strong>[0-9A-F]{8}</strong>", html);
    }

    [Fact]
    public async Task A_foreign_host_name_pointed_at_this_machine_is_turned_away()
    {
        using var request = new HttpRequestMessage(HttpMethod.Get, "/orders");
        request.Headers.Host = "somewhere.example";
        using var answer = await shop.Client.SendAsync(request);
        Assert.Equal(HttpStatusCode.BadRequest, answer.StatusCode);
    }

    [Fact]
    public void It_listens_on_this_machine_only() => Assert.All(shop.Urls, url => Assert.True(new Uri(url).IsLoopback, url));

    [Fact]
    public void The_keys_of_open_pages_lie_in_the_data_folder()
    {
        Assert.NotEmpty(Directory.GetFiles(Path.Combine(shop.DataFolder, "keys")));
    }

    [Theory]
    [InlineData(ServeOptions.LoopbackUrl, true)]
    [InlineData("http://localhost:80;http://[::1]:5080", true)]
    [InlineData("http://0.0.0.0:5080", false)]
    [InlineData("http://*:5080", false)]
    [InlineData("http://127.0.0.1:5080;http://192.168.1.5:5080", false)]
    public void Loopback_is_told_from_the_shops_network(string urls, bool loopback) =>
        Assert.Equal(loopback, new ServeOptions("x", urls, false, []).LoopbackOnly);

    private static string Header(HttpResponseMessage answer, string name) => Assert.Single(answer.Headers.GetValues(name));

    [GeneratedRegex(@"<script(?![^>]*\bsrc=)", RegexOptions.IgnoreCase)]
    private static partial Regex InlineScript();

    [GeneratedRegex(@"<[^>]+\son[a-z]+\s*=", RegexOptions.IgnoreCase)]
    private static partial Regex InlineHandler();

    [GeneratedRegex(@"(?:src|href)=""([^"":#?/][^"":#?]*\.(?:js|css|svg))""")]
    private static partial Regex FileReference();
}
