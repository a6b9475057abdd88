using Microsoft.AspNetCore.Components;

namespace ShopDiag.Web.Saving;

/// <summary>What the browser's journal wrote down when something was entered in a field with <c>data-draft</c> (see <c>wwwroot/js/journal.js</c>).</summary>
public sealed class JournalledEventArgs : EventArgs
{
    /// <summary>The text of the field; for check boxes the chosen values joined by commas.</summary>
    public string Value { get; set; } = "";

    /// <summary>What the database had when typing began, or null for a text that is not a field of the database.</summary>
    public string? Base { get; set; }

    /// <summary>Running number of the entry; the field renders it as <c>data-ack</c> once it is dealt with.</summary>
    public long Sequence { get; set; }

    /// <summary>Command id of the entry, the same at every repetition.</summary>
    public Guid Id { get; set; }

    /// <summary>True when the journal put the text back after a reload or a lost connection.</summary>
    public bool Replayed { get; set; }
}

/// <summary>Makes <c>@onjournalled</c> known to the Razor compiler; <c>connection.js</c> makes it known to the browser.</summary>
[EventHandler("onjournalled", typeof(JournalledEventArgs), enableStopPropagation: true, enablePreventDefault: true)]
public static class EventHandlers;
