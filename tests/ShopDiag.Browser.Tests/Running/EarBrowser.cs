using Microsoft.Playwright;

namespace ShopDiag.Browser.Tests.Running;

/// <summary>A browser of its own in which a page gets the microphone without asking anybody, or in which nobody allows it.</summary>
public sealed class EarBrowser : IAsyncDisposable
{
    private readonly IPlaywright _playwright;
    private readonly IBrowser _browser;

    private EarBrowser(IPlaywright playwright, IBrowser browser) => (_playwright, _browser) = (playwright, browser);

    /// <summary>Starts it.</summary>
    public static async Task<EarBrowser> StartAsync(bool allowed, params string[] more)
    {
        var playwright = await Playwright.CreateAsync();
        string[] ear = allowed ? ["--use-fake-ui-for-media-stream", "--use-fake-device-for-media-stream"] : [];
        return new(playwright, await playwright.Chromium.LaunchAsync(new() { ExecutablePath = Chromium.Executable, Args = [.. Chromium.Arguments, .. ear, .. more] }));
    }

    /// <summary>A tablet.</summary>
    public Task<Tab> TabletAsync(string url, int width = 1024, int height = 768) => Chromium.TabletAsync(_browser, url, width, height);

    public async ValueTask DisposeAsync()
    {
        await _browser.DisposeAsync();
        _playwright.Dispose();
    }
}
