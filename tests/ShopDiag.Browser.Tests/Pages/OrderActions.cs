using Microsoft.Playwright;
using static Microsoft.Playwright.Assertions;

namespace ShopDiag.Browser.Tests.Pages;

/// <summary>What an advisor does on the page of an order.</summary>
internal static class OrderActions
{
    /// <summary>A field by its label.</summary>
    public static ILocator Field(this IPage page, string label) => page.GetByLabel(label, new() { Exact = true });

    /// <summary>Types into a field and waits until the database has it, as <paramref name="saved"/> or as typed.</summary>
    public static async Task WriteAsync(this IPage page, string label, string text, string? saved = null)
    {
        await page.Field(label).FillAsync(text);
        await Expect(page.Field(label)).ToHaveAttributeAsync("data-saved", saved ?? text);
    }

    /// <summary>Chooses a file, once a person could: the field is closed until the page listens to it.</summary>
    public static async Task ChooseFileAsync(this IPage page, string id, FilePayload file)
    {
        await Expect(page.Locator(id)).ToBeEnabledAsync();
        await page.Locator(id).SetInputFilesAsync(file);
    }

    /// <summary>Touches a chip and waits until the database has it under its id.</summary>
    public static async Task ChooseAsync(this IPage page, string group, string choice, string id)
    {
        var fieldset = page.GetByRole(AriaRole.Group, new() { Name = group, Exact = true });
        await fieldset.GetByLabel(choice, new() { Exact = true }).TapAsync();
        await Expect(fieldset).ToHaveAttributeAsync("data-saved", id);
    }

    /// <summary>Opens a new order from the bar and answers its number.</summary>
    public static async Task<int> NewOrderAsync(this IPage page)
    {
        await page.GetByRole(AriaRole.Navigation).GetByText("New order").TapAsync();
        var title = page.GetByRole(AriaRole.Heading, new() { Level = 1, NameRegex = new(@"^Order \d+$") });
        await Expect(title).ToBeVisibleAsync();
        return int.Parse((await title.InnerTextAsync()).Split(' ')[1], System.Globalization.CultureInfo.InvariantCulture);
    }

    /// <summary>Picks a generic engine by a few words.</summary>
    public static async Task PickEngineAsync(this IPage page, string words, string title)
    {
        await page.Field("Which engine?").FillAsync(words);
        await page.Locator(".engine-row", new() { HasText = title }).TapAsync();
        await Expect(page.Locator(".engine-now")).ToContainTextAsync(title);
    }

    /// <summary>Opens a part of the order.</summary>
    public static async Task OpenPartAsync(this IPage page, string title)
    {
        var head = page.GetByRole(AriaRole.Button, new() { NameRegex = new($"^{title}") });
        if (await head.GetAttributeAsync("aria-expanded") == "false")
        {
            await head.TapAsync();
            await Expect(head).ToHaveAttributeAsync("aria-expanded", "true");
        }
    }
}
