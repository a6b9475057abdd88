using Bunit;
using Microsoft.AspNetCore.Components;

namespace ShopDiag.Web.Tests.Support;

/// <summary>Acting on a page that renders by itself when something is assessed or saved.</summary>
internal static class Acting
{
    /// <summary>Finds an element and acts on it in one breath of the renderer: between the two the page cannot be rendered anew, which would take the element away.</summary>
    public static void Act<T>(this IRenderedComponent<T> page, Action<IRenderedComponent<T>> act)
        where T : IComponent => page.InvokeAsync(() => act(page)).GetAwaiter().GetResult();
}
