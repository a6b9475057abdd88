using System.Collections.Immutable;
using Microsoft.JSInterop;
using ShopDiag.Estimates;
using ShopDiag.Web.Look;

namespace ShopDiag.Web.Components.EstimateViews;

/// <summary>The browser's side of the field to sign in.</summary>
public sealed class SignatureScript(IJSRuntime js, ILogger log) : PageScript(js, "Estimate/SignaturePad.razor.js", log)
{
    /// <inheritdoc/>
    public override async Task StartAsync()
    {
        await base.StartAsync();
        await TellAsync("start");
    }

    /// <summary>Takes the drawing away.</summary>
    public Task ClearAsync() => TellAsync("clear");

    /// <summary>What is drawn; null when nothing is.</summary>
    public async Task<Signature?> ReadAsync()
    {
        var strokes = await AskAsync<double[][]>("read", [], null);
        return strokes.Length == 0 ? null : new Signature([.. strokes.Select(s => s.ToImmutableArray())], 4);
    }
}
