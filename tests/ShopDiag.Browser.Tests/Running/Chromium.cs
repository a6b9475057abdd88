using Microsoft.Playwright;
using ShopDiag.Browser.Tests.Running;
using Xunit.Sdk;
using Xunit.v3;

[assembly: AssemblyFixture(typeof(Chromium))]
[assembly: Parallelization(Mode = ParallelMode.Collections, MaxThreads = 2)]

namespace ShopDiag.Browser.Tests.Running;

/// <summary>One browser for all tests; each tab has a context, and so a storage, of its own.</summary>
public sealed class Chromium : IAsyncLifetime
{
    internal const string Executable = "/usr/bin/chromium";

    internal static readonly string[] Arguments =
        ["--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking", "--disable-component-update", "--disable-sync"];

    /// <summary>How long anything may take that is waited for, milliseconds: continuous integration runs on slow and shared machines.</summary>
    internal const float Patience = 90_000;

    private IPlaywright _playwright = null!;
    private IBrowser _browser = null!;

    public async ValueTask InitializeAsync()
    {
        Assertions.SetDefaultExpectTimeout(Patience);
        _playwright = await Playwright.CreateAsync();
        _browser = await _playwright.Chromium.LaunchAsync(new() { ExecutablePath = Executable, Args = Arguments });
    }

    public async ValueTask DisposeAsync()
    {
        await _browser.DisposeAsync();
        _playwright.Dispose();
    }

    /// <summary>A tablet: touch, the size given, an address to which paths are relative, and somebody signed in; null for nobody.</summary>
    public Task<Tab> TabletAsync(string url, int width = 1280, int height = 800, string? login = SignedIn.Owner) => TabletAsync(_browser, url, width, height, login);

    internal static async Task<Tab> TabletAsync(IBrowser browser, string url, int width, int height, string? login = SignedIn.Owner)
    {
        var context = await browser.NewContextAsync(new()
        {
            BaseURL = url,
            HasTouch = true,
            ViewportSize = new() { Width = width, Height = height },
            ReducedMotion = ReducedMotion.Reduce,
        });
        context.SetDefaultTimeout(Patience);
        if (login is not null)
        {
            await SignedIn.AddAsync(context, url, login);
        }

        return new Tab(context, await context.NewPageAsync());
    }
}
