using ShopDiag.Browser.Tests.Pages;
using ShopDiag.Browser.Tests.Running;
using static Microsoft.Playwright.Assertions;

namespace ShopDiag.Browser.Tests;

/// <summary>Text that would be a program or a burden if it were taken for more than text.</summary>
public sealed class HostileTextTests(Chromium chromium, DemoShop shop) : IClassFixture<DemoShop>
{
    private const string Markup = "<img src=x onerror=\"document.title='owned'\"><script>document.title='owned'</script>";

    [Fact]
    public async Task Markup_in_a_name_is_text_on_every_page_that_shows_it()
    {
        await using var tab = await chromium.TabletAsync(shop.Url);
        await tab.OpenOrderAsync(DemoShop.InDiagnosis, "concern");
        foreach (var label in new[] { "Name", "Make and model", "Technician" })
        {
            await tab.Page.WriteAsync(label, Markup);
        }

        await tab.Page.WriteAsync("Plate", "<img src=x>");
        await tab.Page.WriteAsync("In the customer's words", Markup);
        foreach (var path in new[] { "/orders", "/orders/1014", "/orders/1014/workup", "/orders/1014/estimate", "/find?q=owned", $"/find?q={Uri.EscapeDataString(Markup)}", "/owner" })
        {
            await tab.OpenAsync(path);
            await Expect(tab.Page.Locator("main h1").First).ToBeVisibleAsync();
            Assert.Equal(0, await tab.Page.Locator("img[src='x']").CountAsync());
            Assert.NotEqual("owned", await tab.Page.TitleAsync());
        }

        await tab.OpenAsync("/owner/customers");
        await tab.Page.Locator("#cu-text").FillAsync("img");
        await tab.Page.Locator("main form button").TapAsync();
        await Expect(tab.Page.Locator(".bk-backup h3").First).ToContainTextAsync("<img src=x");
        Assert.Equal(0, await tab.Page.Locator("img[src='x']").CountAsync());
        Assert.DoesNotContain(tab.Complaints, c => c.Contains("owned", StringComparison.Ordinal));
    }

    [Fact]
    public async Task Ten_megabytes_pasted_into_a_field_are_refused_beside_it_and_the_page_goes_on()
    {
        await using var tab = await chromium.TabletAsync(shop.Url);
        await tab.OpenOrderAsync(DemoShop.WrittenUp, "concern");
        var field = tab.Page.Field("In the customer's words");
        await field.FocusAsync();
        await tab.Page.EvaluateAsync("() => document.execCommand('insertText', false, 'paste '.repeat(1800000))");
        // What was there before stays saved; nothing is cut to what fits without a word.
        await Expect(tab.Page.GetByText("At most 8000 letters fit here").First).ToBeVisibleAsync();
        await Expect(field).Not.ToHaveAttributeAsync("data-saved", new System.Text.RegularExpressions.Regex("paste"));
        await tab.Page.WriteAsync("Make and model", "Still alive");
    }

    [Fact]
    public async Task Text_that_no_field_lets_in_is_refused_by_the_server_and_does_not_take_the_page_with_it()
    {
        await using var tab = await chromium.TabletAsync(shop.Url);
        await tab.OpenOrderAsync(DemoShop.WrittenUp, "concern");
        // Past the limit of the field, as somebody would who means no good; below the limit of a message.
        await tab.Page.EvaluateAsync("() => { const f = document.querySelector('textarea[data-draft]'); f.removeAttribute('maxlength'); f.value = 'x'.repeat(60000); f.dispatchEvent(new Event('input', { bubbles: true })); }");
        await Expect(tab.Page.GetByText("At most 8000 letters fit here").First).ToBeVisibleAsync();
        await tab.Page.WriteAsync("Make and model", "Alive after that");
    }
}
