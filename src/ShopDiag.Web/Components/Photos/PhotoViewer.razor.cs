using System.Globalization;
using Microsoft.AspNetCore.Components;
using Microsoft.JSInterop;
using ShopDiag.Storage.Orders;
using ShopDiag.Storage.Photos;
using ShopDiag.Web.Look;
using ShopDiag.Web.Orders;
using ShopDiag.Web.Photos;
using ShopDiag.Web.Saving;

namespace ShopDiag.Web.Components.PhotoViews;

/// <summary>One photo to look at and to draw on. Rendered with its photo as key: another photo is another viewer.</summary>
public sealed partial class PhotoViewer : IAsyncDisposable
{
    private Browser? _browser;
    private string _problem = "";

    /// <summary>The order's number.</summary>
    [Parameter, EditorRequired] public required int Number { get; set; }

    /// <summary>The photo.</summary>
    [Parameter, EditorRequired] public required Photo Photo { get; set; }

    /// <summary>What it was taken of, in words.</summary>
    [Parameter, EditorRequired] public required string Name { get; set; }

    /// <summary>Says times.</summary>
    [Parameter, EditorRequired] public required ShopClock Clock { get; set; }

    /// <summary>Its place among those one can go through, from 0.</summary>
    [Parameter] public int Index { get; set; }

    /// <summary>How many one can go through.</summary>
    [Parameter] public int Count { get; set; } = 1;

    /// <summary>Another photo is to be shown: 1 for the next, -1 for the one before.</summary>
    [Parameter] public EventCallback<int> OnMove { get; set; }

    /// <summary>The photo was deleted.</summary>
    [Parameter] public EventCallback OnDeleted { get; set; }

    /// <summary>The viewer is to be closed.</summary>
    [Parameter] public EventCallback OnClose { get; set; }

    [Inject] private PhotoStore Store { get; set; } = null!;

    [Inject] private CommandJournal Commands { get; set; } = null!;

    [Inject] private Tablet Tablet { get; set; } = null!;

    [Inject] private IJSRuntime Js { get; set; } = null!;

    [Inject] private ILogger<PhotoViewer> Log { get; set; } = null!;

    private string MarksId => $"marks-{Photo.Id:N}";

    private string Shape => string.Create(CultureInfo.InvariantCulture, $"--w:{Photo.Width};--h:{Photo.Height}");

    /// <inheritdoc/>
    public ValueTask DisposeAsync() => _browser?.DisposeAsync() ?? ValueTask.CompletedTask;

    /// <inheritdoc/>
    protected override async Task OnAfterRenderAsync(bool firstRender)
    {
        if (firstRender)
        {
            _browser = new Browser(Js, Log);
            await _browser.StartAsync();
        }
    }

    private static string Part(double part) => part.ToString(CultureInfo.InvariantCulture);

    private Task<SaveResult> SaveCaptionAsync(FieldEntry entry) => Store.SetCaptionAsync(Photo.Id, entry.Value, entry.Base, entry.Id, Tablet.By);

    private async Task<bool> ChangeAsync(ChangePhoto change)
    {
        var result = await Commands.RunAsync(ChangePhoto.Kind, Guid.CreateVersion7(), CommandJson.Write(change));
        var saved = result.Outcome is SaveOutcome.Saved or SaveOutcome.AlreadySaved;
        _problem = saved ? "" : result.Message;
        return saved;
    }

    private async Task DeleteAsync()
    {
        if (await ChangeAsync(new(Photo.Id, null, true, Tablet.By)))
        {
            await OnDeleted.InvokeAsync();
        }
    }

    /// <summary>The browser's side (<c>PhotoViewer.razor.js</c>).</summary>
    private sealed class Browser(IJSRuntime js, ILogger log) : PageScript(js, "Photos/PhotoViewer.razor.js", log)
    {
        public override async Task StartAsync()
        {
            await base.StartAsync();
            await TellAsync("start");
        }
    }
}
