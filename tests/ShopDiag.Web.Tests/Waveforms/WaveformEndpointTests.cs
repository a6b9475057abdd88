using System.Net;
using System.Net.Sockets;
using System.Text;
using Microsoft.Extensions.DependencyInjection;
using ShopDiag.Web.Tests.Integration;
using ShopDiag.Web.Waveforms;

namespace ShopDiag.Web.Tests.Waveforms;

public sealed class WaveformEndpointTests(RunningShop shop) : IClassFixture<RunningShop>
{
    private WaveformUploads Uploads => shop.Services.GetRequiredService<WaveformUploads>();

    [Fact]
    public async Task A_file_that_a_page_waits_for_is_there_until_the_page_goes()
    {
        var id = Uploads.Expect();
        using var answer = await PutAsync(id, "time,amps\n");

        Assert.Equal(HttpStatusCode.OK, answer.StatusCode);
        using (var file = new StreamReader(Uploads.Open(id)!))
        {
            Assert.Equal("time,amps\n", await file.ReadToEndAsync());
        }

        Uploads.Drop(id);
        Assert.Null(Uploads.Open(id));
        using var late = await PutAsync(id, "time,amps\n");
        Assert.Equal(HttpStatusCode.NotFound, late.StatusCode);
        Assert.Null(Uploads.Open(id));
    }

    [Fact]
    public async Task A_file_that_nobody_waits_for_is_refused_and_leaves_nothing()
    {
        var id = Guid.NewGuid();
        using var answer = await PutAsync(id, "time,amps\n");

        Assert.Equal(HttpStatusCode.NotFound, answer.StatusCode);
        Assert.Contains("Choose it again", await answer.Content.ReadAsStringAsync(), StringComparison.Ordinal);
        Assert.Null(Uploads.Open(id));
    }

    [Fact]
    public async Task A_file_that_is_too_large_is_refused_by_its_length()
    {
        var id = Uploads.Expect();
        // By hand: a client of the library would insist on sending all that it announces.
        using var tcp = new TcpClient();
        await tcp.ConnectAsync(shop.Client.BaseAddress!.Host, shop.Client.BaseAddress.Port);
        await using var stream = tcp.GetStream();
        await stream.WriteAsync(Encoding.ASCII.GetBytes($"PUT {WaveformEndpoints.Address(id)} HTTP/1.1\r\nHost: 127.0.0.1\r\nCookie: {shop.Cookies.GetCookieHeader(shop.Client.BaseAddress)}\r\nContent-Length: {WaveformUploads.LargestBytes + 1}\r\n\r\n"));
        using var reader = new StreamReader(stream);

        Assert.StartsWith("HTTP/1.1 413", await reader.ReadLineAsync(), StringComparison.Ordinal);
        Assert.Null(Uploads.Open(id));
    }

    private async Task<HttpResponseMessage> PutAsync(Guid id, string text)
    {
        using var content = new StringContent(text);
        return await shop.Client.PutAsync(new Uri(WaveformEndpoints.Address(id), UriKind.Relative), content);
    }
}
