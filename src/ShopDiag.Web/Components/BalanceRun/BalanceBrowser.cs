using Microsoft.JSInterop;
using ShopDiag.Web.Look;

namespace ShopDiag.Web.Components.BalanceRunViews;

/// <summary>What the browser said when it was asked for the microphone.</summary>
/// <param name="Rate">Samples a second; 0 when there is none.</param>
/// <param name="Processed">What the device does to the sound although it was asked not to.</param>
/// <param name="Problem">Why there is none: <c>insecure</c>, <c>none</c>, <c>refused</c>, <c>missing</c>, <c>busy</c> or <c>failed</c>; null when there is one.</param>
/// <param name="Detail">The browser's own words, or null.</param>
public sealed record MicrophoneAnswer(double Rate, string[]? Processed, string? Problem, string? Detail);

/// <summary>The browser's side of the balance run (<c>BalanceRunBody.razor.js</c>). A page that is gone has nothing left to be told.</summary>
public sealed class BalanceBrowser(IJSRuntime js, ILogger log) : PageScript(js, "BalanceRun/BalanceRunBody.razor.js", log)
{
    // Decoding and sending a quarter of an hour over a weak Wi-Fi.
    private static readonly TimeSpan SendingTime = TimeSpan.FromMinutes(10);

    // A person reads the browser's question first.
    private static readonly TimeSpan AskingTime = TimeSpan.FromMinutes(2);

    /// <summary>Whether there can be a microphone: <c>ok</c>, <c>insecure</c> or <c>none</c>.</summary>
    public Task<string> MicrophoneAsync() => AskAsync("microphone", "none", AskingTime);

    /// <summary>Asks for the microphone.</summary>
    public Task<MicrophoneAnswer> OpenAsync() => AskAsync("open", new MicrophoneAnswer(0, null, "failed", null), AskingTime);

    /// <summary>Lets the sound come to a component (<c>Sound(long, byte[])</c>, <c>MicrophoneEnded()</c>).</summary>
    public Task SendAsync<T>(DotNetObjectReference<T> component)
        where T : class => TellAsync("send", component);

    /// <summary>Lets the microphone go.</summary>
    public Task CloseAsync() => TellAsync("close");

    /// <summary>Gives a cue and begins its countdown.</summary>
    public Task CueAsync(string kind, double? seconds, bool tones) => TellAsync("cue", kind, seconds, tones);

    /// <summary>Sends the file chosen in an input to an address; empty when it was kept, otherwise what is wrong.</summary>
    public Task<string> KeepAsync(string input, string address) => AskAsync("keep", "The file could not be sent. Send it again.", SendingTime, input, address);

    /// <summary>Puts the cursor into a field.</summary>
    public Task FocusAsync(string id) => TellAsync("focus", id);

    /// <summary>Scrolls to the top: the card must be in sight.</summary>
    public Task TopAsync() => TellAsync("top");

    /// <summary>Drops drafts: what they held is saved.</summary>
    public Task ForgetAsync(IEnumerable<string> keys) => TellAsync("forget", (object)keys.ToArray());
}
