using System.Collections.Concurrent;
using System.Net;
using System.Text;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Logging;
using ShopDiag.Storage.Orders;
using ShopDiag.Storage.Personal;
using ShopDiag.Storage.Programs;
using ShopDiag.Web.Tests.Api;
using ShopDiag.Web.Tests.Integration;

namespace ShopDiag.Web.Tests.Running;

/// <summary>The log never says who a customer is, whatever goes wrong and however much it is asked to say.</summary>
public sealed class LogTests
{
    private static readonly string[] Personal = ["Quillfeather", "0177-4455", "quill@example.org", "ZZQ909", "telltale"];

    [Fact]
    public async Task Personal_data_never_reaches_the_log()
    {
        var shop = new RunningShop { Settings = ["--Logging:LogLevel:Default", "Debug", "--Logging:LogLevel:Microsoft", "Debug", "--Logging:LogLevel:Microsoft.EntityFrameworkCore", "Debug"] };
        await shop.InitializeAsync();
        await using var running = shop;
        var heard = new Heard();
        shop.Services.GetRequiredService<ILoggerFactory>().AddProvider(heard);
        var orders = shop.Services.GetRequiredService<OrderStore>();
        var order = (await orders.GetByNumberAsync(shop.OrderNumber))!;
        foreach (var (field, text) in new[]
        {
            (OrderField.CustomerName, "Ada Quillfeather"), (OrderField.CustomerPhone, "0177-4455"), (OrderField.CustomerEmail, "quill@example.org"), (OrderField.VehiclePlate, "ZZQ909"), (OrderField.ConcernText, "telltale"),
        })
        {
            await orders.SetFieldAsync(order.Id, field, text, null, Guid.NewGuid(), "Ann");
            await orders.SetFieldAsync(order.Id, field, text + " again", "somebody else's", Guid.NewGuid(), "Ann");
        }

        foreach (var path in new[] { "/find?q=Quillfeather", "/orders/9999?q=Quillfeather", $"/owner/customers/{order.Customer.Id}.zip", $"/orders/{shop.OrderNumber}/customer.pdf", "/no/Quillfeather" })
        {
            using var answer = await shop.Client.GetAsync(new Uri(path, UriKind.Relative));
        }

        using (var photo = await shop.Client.PutAsync(new Uri($"/orders/{shop.OrderNumber}/photos/{Guid.NewGuid()}?test=borescope&at=c1&name=Quillfeather.jpg&by=telltale", UriKind.Relative), new StringContent("no picture, telltale")))
        {
            Assert.Equal(HttpStatusCode.BadRequest, photo.StatusCode);
        }

        await shop.Services.GetRequiredService<CustomerStore>().FindAsync("Quillfeather");
        Assert.True(heard.Lines.Count > 20, $"only {heard.Lines.Count} lines were heard");
        var lines = heard.Lines.ToArray();
        // At its most talkative the server itself names addresses; those of pages hold no data but what somebody looked for, and that only below the level that is ever switched on.
        var told = lines.Where(l => l.Level >= LogLevel.Information).Concat(lines.Where(l => l.Category.StartsWith("ShopDiag", StringComparison.Ordinal) || l.Category.StartsWith("Microsoft.EntityFrameworkCore", StringComparison.Ordinal)));
        Assert.Empty(told.Where(l => !l.Category.StartsWith("Microsoft.AspNetCore.Hosting", StringComparison.Ordinal) && Personal.Any(p => l.Text.Contains(p, StringComparison.Ordinal))).Select(l => l.Text));
    }

    [Fact]
    public async Task What_programs_send_and_their_secrets_never_reach_the_log()
    {
        var shop = new RunningShop { Settings = ["--Logging:LogLevel:Default", "Debug", "--Logging:LogLevel:Microsoft", "Debug"] };
        await shop.InitializeAsync();
        await using var running = shop;
        var heard = new Heard();
        shop.Services.GetRequiredService<ILoggerFactory>().AddProvider(heard);
        var (secret, id) = await Tokens.MakeAsync(shop.App.Services, Enum.GetValues<TokenGrant>());
        using var program = Tokens.Program(shop.Urls.Single(), secret);
        foreach (var (path, sent) in new[] { ("/api/v1/diagnose", "{\"id\":\"Quillfeather\",\"engine\":5}"), ("/api/v1/decode", "Quillfeather telltale"), ("/api/v1/listen?cylinders=4", "Quillfeather,telltale\n1,2\n"), ("/api/v1/crank?order=Quillfeather", "telltale") })
        {
            using var content = new StringContent(sent, Encoding.UTF8, path.EndsWith("diagnose", StringComparison.Ordinal) ? "application/x-ndjson" : "text/plain");
            using var answer = await program.PostAsync(new Uri(path, UriKind.Relative), content);
        }

        using (await program.GetAsync(new Uri("/api/v1/comebacks?technician=Quillfeather", UriKind.Relative)))
        using (await program.GetAsync(new Uri("/api/v1/Quillfeather", UriKind.Relative)))
        {
        }

        await Tokens.RevokeAsync(shop.App.Services, id);
        using (await program.GetAsync(new Uri("/api/v1/comebacks", UriKind.Relative)))
        {
        }

        Assert.Contains(heard.Lines, l => l.Text.Contains("does not hold was refused", StringComparison.Ordinal));
        var lines = heard.Lines.ToArray();
        // Not even in part: with most of its letters the rest could be tried.
        Assert.Empty(lines.Where(l => l.Text.Contains(secret[TokenSecret.Prefix.Length..][..10], StringComparison.Ordinal) || l.Text.Contains(secret[^10..], StringComparison.Ordinal)).Select(l => l.Text));
        var told = lines.Where(l => l.Level >= LogLevel.Information || l.Category.StartsWith("ShopDiag", StringComparison.Ordinal));
        Assert.Empty(told.Where(l => !l.Category.StartsWith("Microsoft.AspNetCore.Hosting", StringComparison.Ordinal) && Personal.Any(p => l.Text.Contains(p, StringComparison.Ordinal))).Select(l => l.Text));
    }

    [Fact]
    public void As_shipped_the_server_does_not_write_down_addresses()
    {
        var settings = System.Text.Json.JsonDocument.Parse(File.ReadAllText(Path.Combine(AppContext.BaseDirectory, "appsettings.json"))).RootElement.GetProperty("Logging").GetProperty("LogLevel");
        Assert.Equal("Warning", settings.GetProperty("Default").GetString());
        Assert.DoesNotContain(settings.EnumerateObject(), p => p.Name.StartsWith("Microsoft", StringComparison.Ordinal) && p.Value.GetString() is "Information" or "Debug" or "Trace");
    }

    private sealed class Heard : ILoggerProvider
    {
        public ConcurrentQueue<(string Category, LogLevel Level, string Text)> Lines { get; } = new();

        public ILogger CreateLogger(string categoryName) => new Ear(categoryName, Lines);

        public void Dispose()
        {
        }

        private sealed class Ear(string category, ConcurrentQueue<(string, LogLevel, string)> lines) : ILogger
        {
            public IDisposable? BeginScope<TState>(TState state)
                where TState : notnull => null;

            public bool IsEnabled(LogLevel logLevel) => true;

            public void Log<TState>(LogLevel logLevel, EventId eventId, TState state, Exception? exception, Func<TState, Exception?, string> formatter) =>
                lines.Enqueue((category, logLevel, new StringBuilder(formatter(state, exception)).Append(' ').Append(exception).ToString()));
        }
    }
}
