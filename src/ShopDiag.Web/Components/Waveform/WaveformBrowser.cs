using Microsoft.JSInterop;
using ShopDiag.Web.Look;

namespace ShopDiag.Web.Components.WaveformViews;

/// <summary>The browser's side of the waveform page (<c>WaveformReader.razor.js</c>).</summary>
public sealed class WaveformBrowser(IJSRuntime js, ILogger log) : PageScript(js, "Waveform/WaveformReader.razor.js", log)
{
    // 400 MB over a weak Wi-Fi.
    private static readonly TimeSpan SendingTime = TimeSpan.FromMinutes(20);

    /// <summary>Tells a component of files that are chosen or dropped and of stretches that are drawn on the trace.</summary>
    public Task WatchAsync<T>(DotNetObjectReference<T> component)
        where T : class => TellAsync("watch", component);

    /// <summary>Sends the file that was chosen or dropped last; empty when it is there, otherwise what is wrong.</summary>
    public Task<string> SendAsync(string address) => AskAsync("send", "The file could not be sent. Choose it again.", SendingTime, address);
}
