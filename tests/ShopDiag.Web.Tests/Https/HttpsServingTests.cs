using System.Net;
using System.Security.Cryptography.X509Certificates;
using Microsoft.AspNetCore.Builder;

namespace ShopDiag.Web.Tests.Https;

public sealed class HttpsServingTests : IAsyncLifetime
{
    private readonly string _folder = Directory.CreateTempSubdirectory("shopdiag-https-").FullName;
    private WebApplication _app = null!;

    public async ValueTask InitializeAsync()
    {
        var options = new ServeOptions(_folder, "http://127.0.0.1:0;https://127.0.0.1:0", Demo: false, []);
        _app = WebApp.Build(options);
        await WebApp.OpenAsync(_app, options);
        await _app.StartAsync();
    }

    public async ValueTask DisposeAsync()
    {
        await _app.StopAsync();
        await _app.DisposeAsync();
        Directory.Delete(_folder, recursive: true);
    }

    [Fact]
    public async Task A_client_that_trusts_the_shops_authority_is_served_and_any_other_is_not()
    {
        var address = new Uri(new Uri(_app.Urls.Single(u => u.StartsWith("https", StringComparison.Ordinal))), "/shop-certificate.crt");
        using var stranger = new HttpClient();
        await Assert.ThrowsAsync<HttpRequestException>(() => stranger.GetAsync(address));

        using var authority = X509CertificateLoader.LoadCertificate(await File.ReadAllBytesAsync(Path.Combine(_folder, "https", "authority.crt")));
        using var handler = new SocketsHttpHandler();
        handler.SslOptions.CertificateChainPolicy = new() { TrustMode = X509ChainTrustMode.CustomRootTrust, RevocationMode = X509RevocationMode.NoCheck, CustomTrustStore = { authority } };
        using var client = new HttpClient(handler);
        using var answer = await client.GetAsync(address);

        Assert.Equal("application/x-x509-ca-cert", answer.Content.Headers.ContentType!.MediaType);
        Assert.Equal(authority.RawData, await answer.Content.ReadAsByteArrayAsync());
    }

    [Fact]
    public async Task Plain_http_stays_with_this_machine()
    {
        using var client = new HttpClient();
        var address = new Uri(new Uri(_app.Urls.Single(u => u.StartsWith("http:", StringComparison.Ordinal))), "/health/live");
        using var own = await client.GetAsync(address);
        using var foreign = new HttpRequestMessage(HttpMethod.Get, address) { Headers = { Host = "somewhere.example" } };
        using var refused = await client.SendAsync(foreign);

        Assert.Equal((HttpStatusCode.OK, HttpStatusCode.BadRequest), (own.StatusCode, refused.StatusCode));
    }

    [Theory]
    [InlineData("http://127.0.0.1:5080;https://*:5443", true, true, false)]
    [InlineData("http://127.0.0.1:5080", false, true, true)]
    [InlineData("http://*:5080;https://*:5443", true, false, false)]
    public void What_is_encrypted_is_told_from_what_is_not(string urls, bool https, bool plainLoopback, bool loopback)
    {
        var options = new ServeOptions("x", urls, false, []);
        Assert.Equal((https, plainLoopback, loopback), (options.Https, options.PlainLoopbackOnly, options.LoopbackOnly));
    }
}
