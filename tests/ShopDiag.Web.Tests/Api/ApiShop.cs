using System.Text;
using Microsoft.AspNetCore.Builder;
using ShopDiag.Storage.Programs;

namespace ShopDiag.Web.Tests.Api;

/// <summary>The demo shop on a real port of this machine.</summary>
public sealed class ApiShop : IAsyncLifetime
{
    private readonly List<HttpClient> _programs = [];

    public string Folder { get; } = Directory.CreateTempSubdirectory("shopdiag-api-").FullName;

    public WebApplication App { get; private set; } = null!;

    public string Url => App.Urls.Single();

    /// <summary>Settings, as <c>--Section:Key value</c>.</summary>
    public string[] Settings { get; init; } = ["--Limits:Token", "6000"];

    /// <summary>A program whose token may do everything.</summary>
    public HttpClient Program { get; private set; } = null!;

    public async ValueTask InitializeAsync()
    {
        var options = new ServeOptions(Folder, "http://127.0.0.1:0", Demo: true, Settings);
        App = WebApp.Build(options);
        await WebApp.OpenAsync(App, options);
        await App.StartAsync();
        Program = await ProgramAsync(Enum.GetValues<TokenGrant>());
    }

    public async Task<HttpClient> ProgramAsync(params TokenGrant[] grants)
    {
        var program = Tokens.Program(Url, (await Tokens.MakeAsync(App.Services, grants)).Secret);
        _programs.Add(program);
        return program;
    }

    /// <summary>Sends bytes as something.</summary>
    public Task<HttpResponseMessage> PostAsync(string path, byte[] sent, string? type)
    {
        var content = new ByteArrayContent(sent);
        if (type is not null)
        {
            content.Headers.TryAddWithoutValidation("Content-Type", type);
        }

        return Program.PostAsync(new Uri(path, UriKind.Relative), content);
    }

    public Task<HttpResponseMessage> PostAsync(string path, string sent, string? type) => PostAsync(path, Encoding.UTF8.GetBytes(sent), type);

    public Task<HttpResponseMessage> GetAsync(string path) => Program.GetAsync(new Uri(path, UriKind.Relative));

    public async ValueTask DisposeAsync()
    {
        _programs.ForEach(p => p.Dispose());
        await App.StopAsync();
        await App.DisposeAsync();
        Directory.Delete(Folder, recursive: true);
    }
}
