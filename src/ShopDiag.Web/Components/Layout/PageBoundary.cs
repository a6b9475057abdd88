using Microsoft.AspNetCore.Components;
using Microsoft.AspNetCore.Components.Rendering;

namespace ShopDiag.Web.Components.Layout;

/// <summary>
/// Keeps an error in one page or part from taking the whole circuit down: says so in plain words with an incident number
/// that is also in the log. What was typed stays in the journal.
/// </summary>
public sealed class PageBoundary : ErrorBoundaryBase
{
    private string _incident = "";

    /// <summary>What the part is called, for the message; the whole page when empty.</summary>
    [Parameter] public string Part { get; set; } = "This page";

    [Inject] private ILogger<PageBoundary> Log { get; set; } = null!;

    /// <inheritdoc/>
    protected override Task OnErrorAsync(Exception exception)
    {
        _incident = Incident.New();
        Log.LogError(exception, "Incident {Incident}: {Part} failed", _incident, Part);
        return Task.CompletedTask;
    }

    /// <inheritdoc/>
    protected override void BuildRenderTree(RenderTreeBuilder builder)
    {
        if (CurrentException is null)
        {
            builder.AddContent(0, ChildContent);
            return;
        }

        builder.OpenElement(1, "section");
        builder.AddAttribute(2, "class", "note note-wrong");
        builder.AddAttribute(3, "role", "alert");
        builder.OpenElement(4, "h2");
        builder.AddContent(5, $"{Part} ran into an error of the program");
        builder.CloseElement();
        builder.OpenElement(6, "p");
        builder.AddContent(7, "What you typed is kept. Try again; if it comes back, tell whoever looks after the program this number: ");
        builder.OpenElement(8, "strong");
        builder.AddContent(9, _incident);
        builder.CloseElement();
        builder.CloseElement();
        builder.OpenElement(10, "button");
        builder.AddAttribute(11, "type", "button");
        builder.AddAttribute(12, "class", "button");
        builder.AddAttribute(13, "onclick", EventCallback.Factory.Create(this, Recover));
        builder.AddContent(14, "Try again");
        builder.CloseElement();
        builder.CloseElement();
    }
}

/// <summary>Numbers by which a person and a log line speak of the same error.</summary>
public static class Incident
{
    /// <summary>Eight signs, easy to read out over a telephone.</summary>
    public static string New() => Guid.NewGuid().ToString("N")[..8].ToUpperInvariant();
}
