using Microsoft.JSInterop;
using ShopDiag.Web.Look;

namespace ShopDiag.Web.Components.WorkupViews;

/// <summary>The browser's side of the workup page (<c>WorkupBody.razor.js</c>). A page that is gone has nothing left to be told.</summary>
public sealed class WorkupBrowser(IJSRuntime js, ILogger log) : PageScript(js, "Workup/WorkupBody.razor.js", log)
{
    /// <summary>Loads the module and lets it listen.</summary>
    public override async Task StartAsync()
    {
        await base.StartAsync();
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

    /// <summary>Scrolls no further than needed to have an element in sight; the cursor stays.</summary>
    public Task BringUpAsync(string id) => TellAsync("bringUp", id);

    /// <summary>Drops drafts: what they held is saved or given up.</summary>
    public Task ForgetAsync(string[] keys) => TellAsync("forget", (object)keys);

    /// <summary>The keys of the drafts on this tablet that begin so.</summary>
    public Task<string[]> DraftsAsync(string prefix) => AskAsync<string[]>("drafts", [], null, prefix);
}
