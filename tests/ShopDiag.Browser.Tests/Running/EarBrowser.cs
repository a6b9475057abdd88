using Microsoft.Playwright;

namespace ShopDiag.Browser.Tests.Running;

/// <summary>A browser of its own whose microphone hears a WAV file, once, from the moment a page listens; or that has no microphone to give.</summary>
public sealed class EarBrowser : IAsyncDisposable
{
    private readonly IPlaywright _playwright;
    private readonly IBrowser _browser;

    private EarBrowser(IPlaywright playwright, IBrowser browser) => (_playwright, _browser) = (playwright, browser);

    /// <summary>Starts it; null for one in which nobody allows the microphone.</summary>
    public static async Task<EarBrowser> StartAsync(string? file, params string[] more)
    {
        var playwright = await Playwright.CreateAsync();
        string[] ear = file is null ? [] : ["--use-fake-ui-for-media-stream", "--use-fake-device-for-media-stream", $"--use-file-for-fake-audio-capture={file}%noloop"];
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
