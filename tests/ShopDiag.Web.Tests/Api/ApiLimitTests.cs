using System.Net;
using System.Text.Json.Nodes;
using ShopDiag.Storage.Programs;
using ShopDiag.Web.Tests.Integration;

namespace ShopDiag.Web.Tests.Api;

/// <summary>A program that asks without end is slowed down, whoever guesses tokens more so, and neither stops the others.</summary>
public sealed class ApiLimitTests
{
    private static readonly Uri Comebacks = new("/api/v1/comebacks", UriKind.Relative);

    [Fact]
    public async Task One_token_may_ask_so_often_and_the_next_is_not_held_back_by_it()
    {
        var shop = new RunningShop { Settings = ["--Limits:Token", "5"] };
        await shop.InitializeAsync();
        await using var running = shop;
        var (busy, other) = ((await Tokens.MakeAsync(shop.App.Services, [TokenGrant.Figures])).Secret, (await Tokens.MakeAsync(shop.App.Services, [TokenGrant.Figures])).Secret);
        using var program = Tokens.Program(shop.Urls.Single(), busy);
        var answers = new List<HttpResponseMessage>();
        for (var i = 0; i < 12; i++)
        {
            answers.Add(await program.GetAsync(Comebacks));
        }

        Assert.Equal(HttpStatusCode.OK, answers[0].StatusCode);
        var refused = answers.Where(a => a.StatusCode == HttpStatusCode.TooManyRequests).ToList();
        Assert.True(refused.Count >= 5, $"{refused.Count} of 12 were refused");
        Assert.All(refused, r => Assert.InRange(r.Headers.RetryAfter!.Delta!.Value.TotalSeconds, 1, 60));
        var problem = JsonNode.Parse(await refused[0].Content.ReadAsStringAsync())!;
        Assert.Equal((429, "application/problem+json"), ((int)problem["status"]!, refused[0].Content.Headers.ContentType!.MediaType));
        using var next = Tokens.Program(shop.Urls.Single(), other);
        using var free = await next.GetAsync(Comebacks);
        Assert.Equal(HttpStatusCode.OK, free.StatusCode);
        answers.ForEach(a => a.Dispose());
    }

    [Fact]
    public async Task Tokens_that_do_not_hold_are_counted_by_address_each_another_or_not()
    {
        var shop = new RunningShop { Settings = ["--Limits:WrongTokens", "6"] };
        await shop.InitializeAsync();
        await using var running = shop;
        var tried = new List<HttpStatusCode>();
        for (var i = 0; i < 14; i++)
        {
            using var guess = Tokens.Program(shop.Urls.Single(), i % 2 == 0 ? TokenSecret.New() : $"guess {i}");
            using var answer = await guess.GetAsync(Comebacks);
            tried.Add(answer.StatusCode);
        }

        Assert.Equal((HttpStatusCode.Unauthorized, HttpStatusCode.TooManyRequests), (tried[0], tried[^1]));
        using var honest = Tokens.Program(shop.Urls.Single(), (await Tokens.MakeAsync(shop.App.Services, [TokenGrant.Figures])).Secret);
        using var answered = await honest.GetAsync(Comebacks);
        using var page = await shop.Client.GetAsync(new Uri("/orders", UriKind.Relative));
        Assert.Equal((HttpStatusCode.OK, HttpStatusCode.OK), (answered.StatusCode, page.StatusCode));
    }

    [Fact]
    public async Task Two_are_worked_out_at_once_eight_wait_and_the_next_is_told_to_come_back()
    {
        // Not the limit of the token, which would answer in the same way.
        var shop = new RunningShop { Settings = ["--Limits:Token", "100000"] };
        await shop.InitializeAsync();
        await using var running = shop;
        // Asks before it sends: a program that is told to come back has not sent for nothing, and nobody hangs up on it half way.
        using var handler = new SocketsHttpHandler { Expect100ContinueTimeout = TimeSpan.FromMinutes(2) };
        using var program = new HttpClient(handler) { BaseAddress = new Uri(shop.Urls.Single()) };
        program.DefaultRequestHeaders.Authorization = new("Bearer", (await Tokens.MakeAsync(shop.App.Services, [TokenGrant.WorkOut])).Secret);
        program.DefaultRequestHeaders.ExpectContinue = true;
        var end = new TaskCompletionSource();
        var asked = Enumerable.Range(0, 14).Select(_ => program.PostAsync(new Uri("/api/v1/diagnose", UriKind.Relative), new Unfinished(end.Task))).ToList();
        for (var i = 0; i < 4; i++)
        {
            var first = await Task.WhenAny(asked);
            asked.Remove(first);
            using var refused = await first;
            Assert.Equal((HttpStatusCode.TooManyRequests, "application/problem+json"), (refused.StatusCode, refused.Content.Headers.ContentType!.MediaType));
            Assert.InRange(refused.Headers.RetryAfter!.Delta!.Value.TotalSeconds, 1, 60);
        }

        using var page = await shop.Client.GetAsync(new Uri("/health/live", UriKind.Relative));
        Assert.Equal(HttpStatusCode.OK, page.StatusCode);
        Assert.DoesNotContain(asked, a => a.IsCompleted);
        end.SetResult();
        Assert.All(await Task.WhenAll(asked), a => Assert.Equal(HttpStatusCode.OK, a.StatusCode));
    }

    [Fact]
    public async Task An_error_of_the_program_has_a_number_and_says_nothing_of_the_inside()
    {
        var shop = new RunningShop();
        await shop.InitializeAsync();
        await using var running = shop;
        using var program = Tokens.Program(shop.Urls.Single(), (await Tokens.MakeAsync(shop.App.Services, [TokenGrant.Figures])).Secret);
        using (var file = new Microsoft.Data.Sqlite.SqliteConnection($"Data Source={Path.Combine(shop.DataFolder, "shop.db")}"))
        {
            await file.OpenAsync();
            using var command = file.CreateCommand();
            command.CommandText = "ALTER TABLE Settings RENAME TO Gone";
            await command.ExecuteNonQueryAsync();
        }

        using var answer = await program.GetAsync(Comebacks);
        var text = await answer.Content.ReadAsStringAsync();
        Assert.Equal((HttpStatusCode.InternalServerError, "application/problem+json"), (answer.StatusCode, answer.Content.Headers.ContentType!.MediaType));
        Assert.Matches("^[0-9A-F]{8}$", (string)JsonNode.Parse(text)!["incident"]!);
        Assert.DoesNotContain("Settings", text, StringComparison.Ordinal);
        Assert.DoesNotContain("SQLite", text, StringComparison.OrdinalIgnoreCase);
    }

    [Fact]
    public async Task Until_the_shop_is_set_up_this_machine_hears_that_it_needs_a_token_and_nothing_is_given_out()
    {
        var folder = Directory.CreateTempSubdirectory("shopdiag-api-none-").FullName;
        try
        {
            var options = new ServeOptions(folder, "http://127.0.0.1:0", Demo: false, []);
            await using var app = WebApp.Build(options);
            Microsoft.Extensions.DependencyInjection.ServiceProviderServiceExtensions.GetRequiredService<Web.People.SetUpCode>(app.Services).Write = _ => { };
            await WebApp.OpenAsync(app, options);
            await app.StartAsync();
            using var program = Tokens.Program(app.Urls.Single(), TokenSecret.New());
            using var answer = await program.GetAsync(Comebacks);
            Assert.Equal((HttpStatusCode.Unauthorized, "application/problem+json"), (answer.StatusCode, answer.Content.Headers.ContentType!.MediaType));
            await app.StopAsync();
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }

    /// <summary>A line of blanks that is not over before it is let go.</summary>
    private sealed class Unfinished : HttpContent
    {
        private readonly Task _end;

        public Unfinished(Task end)
        {
            _end = end;
            Headers.ContentType = new("application/x-ndjson");
        }

        protected override async Task SerializeToStreamAsync(Stream stream, TransportContext? context)
        {
            // Faster than 240 bytes a second, below which the server hangs up on whoever sends.
            var blanks = new byte[512];
            blanks.AsSpan().Fill((byte)' ');
            do
            {
                await stream.WriteAsync(blanks);
                await stream.FlushAsync();
            }
            while (await Task.WhenAny(_end, Task.Delay(250)) != _end);
        }

        protected override bool TryComputeLength(out long length)
        {
            length = 0;
            return false;
        }
    }
}
