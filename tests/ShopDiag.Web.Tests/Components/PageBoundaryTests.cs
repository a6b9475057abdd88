using Bunit;
using Microsoft.AspNetCore.Components;
using Microsoft.AspNetCore.Components.Rendering;
using ShopDiag.Web.Components.Layout;
using ShopDiag.Web.Tests.Support;

namespace ShopDiag.Web.Tests.Components;

public sealed class PageBoundaryTests : PageTest
{
    [Fact]
    public void An_error_is_said_in_words_with_an_incident_number_and_can_be_tried_again()
    {
        Fragile.Fails = true;
        var page = Render<PageBoundary>(p => p.Add(b => b.Part, "Workup").AddChildContent<Fragile>());
        Assert.Contains("Workup ran into an error", page.Find("[role=alert] h2").TextContent, StringComparison.Ordinal);
        Assert.Matches("^[0-9A-F]{8}$", page.Find("strong").TextContent);
        Assert.DoesNotContain("secret detail", page.Markup, StringComparison.Ordinal);
        Fragile.Fails = false;
        page.Find("button").Click();
        Assert.Equal("<p>works</p>", page.Markup);
    }

    private sealed class Fragile : ComponentBase
    {
        public static bool Fails { get; set; }

        protected override void BuildRenderTree(RenderTreeBuilder builder)
        {
            if (Fails)
            {
                throw new InvalidOperationException("secret detail");
            }

            builder.AddMarkupContent(0, "<p>works</p>");
        }
    }
}
