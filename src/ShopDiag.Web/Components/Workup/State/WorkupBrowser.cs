using Microsoft.JSInterop;

namespace ShopDiag.Web.Components.WorkupViews;

/// <summary>The browser's side of the workup page (<c>WorkupBody.razor.js</c>). A page that is gone has nothing left to be told.</summary>
public sealed class WorkupBrowser(IJSRuntime js, ILogger log) : IAsyncDisposable
{
    private IJSObjectReference? _module;

    /// <summary>Loads the module and lets it listen.</summary>
    public async Task StartAsync()
    {
        _module = await js.InvokeAsync<IJSObjectReference>("import", "./Components/Workup/WorkupBody.razor.js");
        await TellAsync("start");
    }

    /// <summary>Puts the cursor into an element; <paramref name="stay"/> when something is wrong there.</summary>
    public Task FocusAsync(string id, bool stay) => TellAsync("focus", id, stay);

    /// <summary>Puts the cursor back on a cell of the sheet.</summary>
    public Task FocusCellAsync(CellKey cell) => TellAsync("focusCell", cell.Text);

    /// <summary>Scrolls to an element.</summary>
    public Task ShowAsync(string id) => TellAsync("show", id);

    /// <summary>Scrolls the column of the next step, and nothing else, to an element in it.</summary>
    public Task UnrollAsync(string id) => TellAsync("unroll", id);

    /// <summary>Drops drafts: what they held is saved or given up.</summary>
    public Task ForgetAsync(string[] keys) => TellAsync("forget", (object)keys);

    /// <summary>The keys of the drafts on this tablet that begin so.</summary>
    public async Task<string[]> DraftsAsync(string prefix)
    {
        try
        {
            return _module is null ? [] : await _module.InvokeAsync<string[]?>("drafts", prefix) ?? [];
        }
        catch (Exception e) when (IsGone(e))
        {
            return [];
        }
    }

    /// <inheritdoc/>
    public async ValueTask DisposeAsync()
    {
        await TellAsync("dispose");
        if (_module is not null)
        {
            try
            {
                await _module.DisposeAsync();
            }
            catch (Exception e) when (IsGone(e))
            {
                // The page went first.
            }
        }
    }

    private async Task TellAsync(string what, params object?[] arguments)
    {
        try
        {
            if (_module is not null)
            {
                await _module.InvokeVoidAsync(what, arguments);
            }
        }
        catch (Exception e) when (IsGone(e))
        {
            // The page went first.
        }
        catch (JSException e)
        {
            // The cursor in the wrong place is a nuisance; a page that falls over for it would be worse.
            log.LogError(e, "The workup page could not do '{What}'", what);
        }
    }

    private static bool IsGone(Exception e) => e is JSDisconnectedException or TaskCanceledException or ObjectDisposedException;
}
