using Microsoft.AspNetCore.Components;

namespace ShopDiag.Web.Components.WorkupViews;

/// <summary>A cell of the sheet was pressed: one handler on the table for all of them (<c>connection.js</c>), where one in each cell would cost a page a third of its memory.</summary>
public sealed class CellPressedEventArgs : EventArgs
{
    /// <summary><see cref="CellKey.Text"/> of the cell; empty where something else in the table was pressed.</summary>
    public string Key { get; set; } = "";
}

/// <summary>Makes <c>@oncellpressed</c> known to the Razor compiler; <c>connection.js</c> makes it known to the browser.</summary>
[EventHandler("oncellpressed", typeof(CellPressedEventArgs), enableStopPropagation: true, enablePreventDefault: true)]
public static class EventHandlers;
