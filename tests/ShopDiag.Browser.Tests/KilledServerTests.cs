using System.Collections.Concurrent;
using System.Diagnostics;
using System.Globalization;
using System.Net.Http.Headers;
using ShopDiag.Browser.Tests.Pages;
using ShopDiag.Browser.Tests.Running;

namespace ShopDiag.Browser.Tests;

/// <summary>The whole server killed (SIGKILL) at random moments while photos are sent to it from all sides.</summary>
public sealed class KilledServerTests
{
    // SHOPDIAG_SERVER_KILLS=50 for many more.
    private static readonly int Kills = int.TryParse(Environment.GetEnvironmentVariable("SHOPDIAG_SERVER_KILLS"), out var kills) ? kills : 3;

    [Fact]
    public async Task Every_photo_that_was_acknowledged_is_there_whole_and_the_records_are_sound()
    {
        await using var server = await ShopServer.StartAsync(demo: true);
        // The kills come faster than any tablet sends.
        (server.Settings["Limits__Sent"], server.Settings["Limits__Other"]) = ("100000", "100000");
        var chance = new Random(20260304);
        var picture = PhotoActions.Plug("x.jpg", 400, 300).Buffer;
        var acknowledged = new ConcurrentDictionary<Guid, int>();
        // Signed in before the first kill, which would meet whoever is at it; the program knows them after each start.
        using var client = await SignedIn.ClientAsync(server.Url, SignedIn.Owner);
        for (var kill = 0; kill < Kills; kill++)
        {
            await server.KillAsync();
            await server.StartAgainAsync();
            using var stop = new CancellationTokenSource();
            var sending = Enumerable.Range(0, 4).Select(_ => SendAsync(client, picture, acknowledged, stop.Token)).ToArray();
            var enough = acknowledged.Count + chance.Next(1, 25);
            var since = Stopwatch.StartNew();
            while (acknowledged.Count < enough)
            {
                Assert.All(sending, s => Assert.False(s.IsFaulted, s.Exception?.ToString()));
                Assert.True(since.Elapsed < TimeSpan.FromMinutes(3), $"Only {acknowledged.Count} of {enough} photos were acknowledged.\n{server.Log}");
                await Task.Delay(5);
            }

            await Task.Delay(chance.Next(0, 60));
            await server.KillAsync();
            await stop.CancelAsync();
            await Task.WhenAll(sending);
        }

        await server.StartAgainAsync();
        foreach (var (id, order) in acknowledged)
        {
            var kept = await client.GetByteArrayAsync(new Uri($"/orders/{order}/photos/{id}", UriKind.Relative));
            // Whole: a JPEG ends with its mark.
            Assert.Equal([0xFF, 0xD9], kept[^2..]);
        }

        using var check = Process.Start(new ProcessStartInfo("dotnet", [Path.Combine(AppContext.BaseDirectory, "ShopDiag.Web.dll"), "check", "--data", server.Folder]) { RedirectStandardOutput = true })!;
        var output = await check.StandardOutput.ReadToEndAsync();
        await check.WaitForExitAsync();
        Assert.True(check.ExitCode == 0, output);
    }

    private static async Task SendAsync(HttpClient client, byte[] picture, ConcurrentDictionary<Guid, int> acknowledged, CancellationToken stop)
    {
        while (!stop.IsCancellationRequested)
        {
            // An order takes three hundred photos at most.
            var (id, order) = (Guid.NewGuid(), DemoShop.WithFinding + Random.Shared.Next(6));
            try
            {
                using var content = new ByteArrayContent(picture);
                content.Headers.ContentType = new MediaTypeHeaderValue("application/octet-stream");
                using var answer = await client.PutAsync(new Uri(string.Create(CultureInfo.InvariantCulture, $"/orders/{order}/photos/{id}?test=borescope&at=c1"), UriKind.Relative), content, stop);
                // Nothing but a kill may keep a photo from being taken.
                Assert.True(answer.IsSuccessStatusCode, $"{answer.StatusCode}: {await answer.Content.ReadAsStringAsync(stop)}");
                acknowledged[id] = order;
            }
            catch (Exception e) when (e is HttpRequestException or OperationCanceledException or IOException)
            {
                // Killed.
            }
        }
    }
}
