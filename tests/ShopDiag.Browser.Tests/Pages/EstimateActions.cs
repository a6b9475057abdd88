using Microsoft.Playwright;
using static Microsoft.Playwright.Assertions;

namespace ShopDiag.Browser.Tests.Pages;

/// <summary>What an advisor does on an estimate.</summary>
internal static class EstimateActions
{
    /// <summary>Adds a part by hand.</summary>
    public static async Task AddPartAsync(this IPage page, string what, string price)
    {
        await page.GetByRole(AriaRole.Button, new() { Name = "Add a part" }).TapAsync();
        await page.WriteAsync("What", what);
        await page.WriteAsync("Price of one", price);
    }

    /// <summary>Gives 50.00 to each line that has no price.</summary>
    public static async Task PriceAllAsync(this IPage page)
    {
        var without = page.Locator(".est-head", new() { HasText = "no price" });
        while (await without.CountAsync() is > 0 and var before)
        {
            await without.First.TapAsync();
            // The line opened before stays open for a moment: only the one without a price is meant.
            await page.Locator(".est-line-open", new() { HasText = "no price" }).GetByLabel("Price").First.FillAsync("50.00");
            // Fewer, not one fewer: a line priced just before may have been among them.
            await Expect(without.Nth(before - 1)).ToHaveCountAsync(0);
        }
    }

    /// <summary>Writes down an answer in person: no to one line, yes to the others, with a signature drawn; saving it without one is refused first.</summary>
    public static async Task SignAsync(this IPage page, string who, string refused)
    {
        await page.GetByRole(AriaRole.Button, new() { Name = "Write down an answer" }).TapAsync();
        await page.GetByRole(AriaRole.Group, new() { Name = refused }).GetByText("No").TapAsync();
        await page.Field("Who decided").FillAsync(who);
        await page.GetByRole(AriaRole.Button, new() { Name = "Save the answer" }).TapAsync();
        await Expect(page.GetByRole(AriaRole.Alert).Last).ToContainTextAsync("signs");

        var pad = page.Locator("[data-sign]");
        await pad.ScrollIntoViewIfNeededAsync();
        var box = (await pad.BoundingBoxAsync())!;
        await page.Mouse.MoveAsync(box.X + 30, box.Y + (box.Height / 2));
        await page.Mouse.DownAsync();
        for (var i = 1; i <= 24; i++)
        {
            await page.Mouse.MoveAsync(box.X + 30 + (i * 12), box.Y + (box.Height / 2) + (float)(30 * Math.Sin(i)));
        }

        await page.Mouse.UpAsync();
        await page.GetByRole(AriaRole.Button, new() { Name = "Save the answer" }).TapAsync();
    }
}
