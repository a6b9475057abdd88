using Bunit;
using Microsoft.AspNetCore.Components;
using ShopDiag.Web.Components.WorkupViews;

namespace ShopDiag.Web.Tests.WorkupViews;

/// <summary>Pressing cells of the sheet as the browser tells it: by the one handler of the table.</summary>
internal static class Cells
{
    public static void PressCell<T>(this IRenderedComponent<T> page, string key)
        where T : IComponent
    {
        Assert.Equal("BUTTON", page.Find($"[data-cell='{key}']").TagName);
        page.Find("[data-sheet]").TriggerEvent("oncellpressed", new CellPressedEventArgs { Key = key });
    }
}
