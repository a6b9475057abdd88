using Microsoft.Playwright;
using static Microsoft.Playwright.Assertions;

namespace ShopDiag.Browser.Tests.Pages;

/// <summary>What a technician does on the workup page.</summary>
internal static class WorkupActions
{
    /// <summary>A cell of the sheet by its key, such as <c>spark-output:c4</c>.</summary>
    public static ILocator Cell(this IPage page, string key) => page.Locator($"[data-cell=\"{key}\"]");

    /// <summary>The entry that is open.</summary>
    public static ILocator Entry(this IPage page) => page.Locator("[data-entry]");

    /// <summary>The field of the entry that has the cursor.</summary>
    public static ILocator NumberField(this IPage page, string label) => page.Entry().GetByLabel(label);

    /// <summary>Touches a cell and waits until its entry is open and the cursor in it.</summary>
    public static async Task OpenCellAsync(this IPage page, string key)
    {
        await page.Cell(key).TapAsync();
        await Expect(page.Cell(key)).ToHaveClassAsync(new System.Text.RegularExpressions.Regex("wk-selected"));
        await Expect(page.Entry().Locator(".wk-field :focus, .wk-choices:focus")).ToBeAttachedAsync();
    }

    /// <summary>Types on a keyboard without waiting for anything, as a hand does that knows the way; <c>\n</c> is Enter.</summary>
    public static async Task TypeAsync(this IPage page, string keys)
    {
        foreach (var key in keys)
        {
            await page.Keyboard.PressAsync(key == '\n' ? "Enter" : key.ToString());
        }
    }

    /// <summary>Touches a choice of the entry that is open.</summary>
    public static Task TouchChoiceAsync(this IPage page, string choice) =>
        page.Entry().GetByRole(AriaRole.Button, new() { Name = choice, Exact = true }).TapAsync();

    /// <summary>The card of the next step.</summary>
    public static ILocator NextStep(this IPage page) => page.Locator("section[aria-labelledby=wk-next-title]");

    /// <summary>Opens a cell and in it the form that says that its test cannot be taken.</summary>
    public static async Task SayHereAsync(this IPage page, string key)
    {
        await page.OpenCellAsync(key);
        await page.Entry().GetByText("Cannot be taken here").TapAsync();
        await Expect(page.Locator("#wk-entry-obstacle")).ToBeVisibleAsync();
    }

    /// <summary>The page of an order's workup, ready to be touched.</summary>
    public static Task SheetIsThereAsync(this IPage page) => Expect(page.Locator("[data-sheet] [data-cell][tabindex=\"0\"]")).ToBeAttachedAsync();
}
