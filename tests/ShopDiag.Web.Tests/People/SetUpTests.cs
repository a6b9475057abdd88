using System.Net;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Time.Testing;
using ShopDiag.Storage.People;
using ShopDiag.Web.People;
using ShopDiag.Web.Tests.Integration;
using ShopDiag.Web.Tests.Verbs;

namespace ShopDiag.Web.Tests.People;

/// <summary>A shop without anybody: the set-up, and who is answered before it.</summary>
public sealed class SetUpTests : IAsyncLifetime
{
    private readonly string _folder = Directory.CreateTempSubdirectory("shopdiag-setup-").FullName;
    private readonly List<string> _console = [];
    private WebApplication _app = null!;
    private HttpClient _browser = null!;

    private string Code => _app.Services.GetRequiredService<SetUpCode>().Current;

    private PeopleDirectory People => _app.Services.GetRequiredService<PeopleDirectory>();

    public async ValueTask InitializeAsync()
    {
        var options = new ServeOptions(_folder, "http://127.0.0.1:0", Demo: false, []);
        _app = WebApp.Build(options);
        _app.Services.GetRequiredService<SetUpCode>().Write = _console.Add;
        await WebApp.OpenAsync(_app, options);
        await _app.StartAsync();
        _browser = new(new HttpClientHandler { AllowAutoRedirect = false }) { BaseAddress = new(_app.Urls.Single()) };
    }

    public async ValueTask DisposeAsync()
    {
        _browser.Dispose();
        await _app.StopAsync();
        await _app.DisposeAsync();
        Directory.Delete(_folder, recursive: true);
    }

    [Fact]
    public async Task Every_page_leads_to_the_set_up_and_nothing_else_answers()
    {
        using var page = await _browser.GetAsync(new Uri("/orders/1001", UriKind.Relative));
        using var photo = new HttpRequestMessage(HttpMethod.Get, "/shop/prices.csv") { Headers = { { "Accept", "*/*" } } };
        using var file = await _browser.SendAsync(photo);
        Assert.Equal((HttpStatusCode.Redirect, "/set-up", HttpStatusCode.Unauthorized), (page.StatusCode, page.Headers.Location?.OriginalString, file.StatusCode));
    }

    [Fact]
    public async Task Only_the_code_from_the_console_makes_an_owner_and_only_one()
    {
        using var guess = await SetUpAsync("AAAA-BBBB-CCCC", "first-walnut-ferry");
        Assert.Contains("That is not the set-up code", await guess.Content.ReadAsStringAsync(), StringComparison.Ordinal);
        Assert.True(People.IsEmpty);

        var code = Assert.Single(_console);
        using var weak = await SetUpAsync(code, "calder2026");
        Assert.True(People.IsEmpty);
        // As somebody types it who reads it off another screen.
        using var done = await SetUpAsync(code.ToLowerInvariant().Replace("-", " ", StringComparison.Ordinal), "first-walnut-ferry");
        using var orders = await _browser.GetAsync(new Uri("/orders", UriKind.Relative));
        Assert.Equal((HttpStatusCode.Redirect, HttpStatusCode.OK), (done.StatusCode, orders.StatusCode));

        using var late = await _browser.GetAsync(new Uri("/set-up", UriKind.Relative));
        Assert.Equal(HttpStatusCode.Redirect, late.StatusCode);
        Assert.False(_app.Services.GetRequiredService<SetUpCode>().IsRight(code));
        Assert.False(await People.AddFirstAsync([People.All[0] with { Id = Guid.NewGuid(), Login = "second" }]));
    }

    [Fact]
    public void A_code_holds_for_half_an_hour_and_then_another_is_written()
    {
        var time = new FakeTimeProvider();
        var written = new List<string>();
        var code = new SetUpCode(People, time) { Write = written.Add };
        var first = code.Current;
        time.Advance(SetUpCode.Holds);
        Assert.True(code.IsRight(first));
        time.Advance(TimeSpan.FromSeconds(1));
        Assert.False(code.IsRight(first));
        Assert.Equal(2, written.Distinct().Count());
    }

    [Theory]
    [InlineData("192.168.1.20", "/health/live", StatusCodes.Status403Forbidden)]
    [InlineData("192.168.1.20", "/api/v1/openapi.json", StatusCodes.Status403Forbidden)]
    [InlineData("2001:db8::1", "/health/live", StatusCodes.Status403Forbidden)]
    [InlineData("127.0.0.1", "/health/live", StatusCodes.Status200OK)]
    [InlineData("127.0.0.1", "/api/v1/openapi.json", StatusCodes.Status200OK)]
    [InlineData("::1", "/health/live", StatusCodes.Status200OK)]
    [InlineData("::ffff:127.0.0.1", "/health/live", StatusCodes.Status200OK)]
    public async Task Until_then_only_this_machine_is_answered(string from, string path, int expected)
    {
        var app = new ApplicationBuilder(_app.Services);
        app.UseSetUpGate();
        app.Run(c =>
        {
            c.Response.StatusCode = StatusCodes.Status200OK;
            return Task.CompletedTask;
        });
        await using var scope = _app.Services.CreateAsyncScope();
        var http = new DefaultHttpContext { RequestServices = scope.ServiceProvider, Request = { Method = "POST", Path = path }, Connection = { RemoteIpAddress = IPAddress.Parse(from) } };
        await app.Build()(http);
        Assert.Equal(expected, http.Response.StatusCode);
    }

    [Fact]
    public async Task Who_is_locked_out_gets_another_password_on_the_console_and_has_to_change_it()
    {
        using var done = await SetUpAsync(Code, "first-walnut-ferry");
        await _app.StopAsync();
        await _app.DisposeAsync();
        var (code, said, error) = await Shell.RunAsync("", "reset-owner", "--data", _folder);
        Assert.Equal((0, ""), (code, error));
        var password = said.Split(" the password ")[1].Split('.')[0];

        await InitializeAsync();
        using var old = await _browser.SubmitAsync("/sign-in", "sign-in", ("Login", "ines"), ("Password", "first-walnut-ferry"));
        Assert.Equal(HttpStatusCode.OK, old.StatusCode);
        await _browser.SignInAsync("ines", password);
        using var orders = await _browser.GetAsync(new Uri("/orders", UriKind.Relative));
        Assert.Equal("/me", orders.Headers.Location?.OriginalString);
    }

    [Fact]
    public async Task What_is_kept_in_the_data_folder_is_for_the_owner_of_the_process_alone()
    {
        if (OperatingSystem.IsWindows())
        {
            return;
        }

        using var done = await SetUpAsync(Code, "first-walnut-ferry");
        var readable = UnixFileMode.GroupRead | UnixFileMode.OtherRead | UnixFileMode.GroupWrite | UnixFileMode.OtherWrite;
        string[] secret = [.. Directory.GetFiles(_folder, "shop.db*"), .. Directory.GetFiles(Path.Combine(_folder, "keys")), Path.Combine(_folder, "keys")];
        Assert.True(secret.Length >= 3, string.Join(' ', secret));
        foreach (var path in secret)
        {
            Assert.True((File.GetUnixFileMode(path) & readable) == 0, path);
        }
    }

    private Task<HttpResponseMessage> SetUpAsync(string code, string password) =>
        _browser.SubmitAsync("/set-up", "set-up", ("Typed", code), ("Name", "Ines Calder"), ("Login", "ines"), ("Password", password), ("Again", password));
}
