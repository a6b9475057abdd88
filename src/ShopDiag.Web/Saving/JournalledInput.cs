using System.Globalization;
using Microsoft.AspNetCore.Components;
using Microsoft.AspNetCore.Components.Rendering;

namespace ShopDiag.Web.Saving;

/// <summary>
/// A native input, text area or select that takes part in the browser's journal (<c>wwwroot/js/journal.js</c>): its text is
/// on the tablet before the server hears of it, and comes back by <see cref="OnTyped"/> after a reload, a lost connection or
/// a killed server. Use <see cref="SavedField"/> for a field of the database; use this one bare for a text that becomes
/// something only when it is entered, such as a number pad:
/// <code>
/// &lt;JournalledInput Draft="@($"order:{id}:reading:compression-dry:cylinder-4:kPa")" Value="@text" Ack="@ack" OnTyped="e => (text, sequence) = (e.Value, e.Sequence)" inputmode="decimal" /&gt;
/// </code>
/// When the text has been entered (and its command is saved, see <see cref="CommandJournal"/>), render <c>Ack</c> with the
/// sequence of the last event: the journal lets go of the draft. Until then a new element with the same draft key, or the
/// same element with its key changed back, gets its text again.
/// </summary>
public sealed class JournalledInput : ComponentBase
{
    /// <summary><c>input</c> (the default), <c>textarea</c> or <c>select</c>.</summary>
    [Parameter] public string Element { get; set; } = "input";

    /// <summary>Key in the journal: <c>record:id:field</c>, the same after a reload.</summary>
    [Parameter, EditorRequired] public required string Draft { get; set; }

    /// <summary>What the database has; null for a text that is no field of the database.</summary>
    [Parameter] public string? Saved { get; set; }

    /// <summary>The text.</summary>
    [Parameter] public string Value { get; set; } = "";

    /// <summary>Number of the latest entry that is dealt with; 0 for none.</summary>
    [Parameter] public long Ack { get; set; }

    /// <summary>True when the server can save the entry without this page (<see cref="DraftReplay"/>).</summary>
    [Parameter] public bool Auto { get; set; }

    /// <summary>True for personal data: in the browser's storage only sealed, with a key that the tablet does not keep (<see cref="TabletKey"/>).</summary>
    [Parameter] public bool Private { get; set; }

    /// <summary>Something was entered, or put back by the journal.</summary>
    [Parameter] public EventCallback<JournalledEventArgs> OnTyped { get; set; }

    /// <summary>The field was left.</summary>
    [Parameter] public EventCallback OnLeft { get; set; }

    /// <summary>Options of a select.</summary>
    [Parameter] public RenderFragment? ChildContent { get; set; }

    /// <summary>Anything else for the element: id, class, inputmode, aria attributes.</summary>
    [Parameter(CaptureUnmatchedValues = true)] public IReadOnlyDictionary<string, object>? Attributes { get; set; }

    /// <inheritdoc/>
    protected override void BuildRenderTree(RenderTreeBuilder builder)
    {
        builder.OpenElement(0, Element);
        builder.AddAttribute(1, "autocomplete", "off");
        builder.AddMultipleAttributes(2, Attributes!);
        Journal.AddTo(builder, Draft, Saved, Ack, Auto, Private);
        builder.AddAttribute(10, "value", Value);
        builder.AddAttribute(11, "onjournalled", OnTyped);
        // Tells the differ that the browser has already changed the value: without it a slow connection would write an older text over a newer one.
        builder.SetUpdatesAttributeName("value");
        if (OnLeft.HasDelegate)
        {
            // Not where nobody listens: a field that goes while it has the focus would still report that it was left, perhaps to a handler that is gone by then.
            builder.AddAttribute(12, "onblur", EventCallback.Factory.Create(this, () => OnLeft.InvokeAsync()));
        }

        builder.AddContent(13, ChildContent);
        builder.CloseElement();
    }
}

/// <summary>The attributes by which an element takes part in the journal: sequence numbers 3 to 7.</summary>
internal static class Journal
{
    public static void AddTo(RenderTreeBuilder builder, string draft, string? saved, long ack, bool auto, bool isPrivate)
    {
        builder.AddAttribute(3, "data-draft", draft);
        builder.AddAttribute(4, "data-saved", saved);
        builder.AddAttribute(5, "data-ack", ack == 0 ? null : ack.ToString(CultureInfo.InvariantCulture));
        builder.AddAttribute(6, "data-auto", auto);
        builder.AddAttribute(7, "data-private", isPrivate);
    }
}
