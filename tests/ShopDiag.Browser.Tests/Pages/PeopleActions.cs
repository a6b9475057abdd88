using ShopDiag.Browser.Tests.Running;
using static Microsoft.Playwright.Assertions;

namespace ShopDiag.Browser.Tests.Pages;

/// <summary>Signing in and out on a tablet.</summary>
internal static class PeopleActions
{
    /// <summary>Becomes the owner of a new shop.</summary>
    public static async Task SetUpAsync(this Tab tab, ShopServer server)
    {
        var page = tab.Page;
        await page.GotoAsync("/");
        await page.Field("Set-up code").FillAsync(server.SetUpCode);
        await page.Field("Your name, as it stands in the records").FillAsync("Ines Calder");
        await page.Field("Name to sign in with").FillAsync("ines");
        await page.Field("Password").FillAsync("four-odd-spark-gaps");
        await page.Field("Password again").FillAsync("four-odd-spark-gaps");
        await page.GetByText("Become the owner").TapAsync();
        await tab.AnswersAsync();
    }

    /// <summary>Signs in with a password; the page that was asked for opens.</summary>
    public static async Task SignInAsync(this Tab tab, string login, bool remember = false)
    {
        await tab.Page.Field("Name").FillAsync(login);
        await tab.Page.Field("Password").FillAsync(SignedIn.Password);
        if (remember)
        {
            await tab.Page.Locator(".check").TapAsync();
        }

        await tab.Page.Locator("button[type=submit]", new() { HasText = "Sign in" }).TapAsync();
        await tab.AnswersAsync();
    }

    /// <summary>Locks the tablet from the bar.</summary>
    public static async Task LockAsync(this Tab tab)
    {
        await tab.Page.Locator(".bar-person summary").TapAsync();
        await tab.Page.GetByText("Lock, or switch person").TapAsync();
        await Expect(tab.Page.Locator(".switch")).ToBeVisibleAsync();
    }

    /// <summary>Changes the look of the screen in the person's menu, and closes it.</summary>
    public static async Task LookAsync(this Tab tab, string look)
    {
        await tab.Page.Locator(".bar-person summary").TapAsync();
        await tab.Page.Field("Look of the screen").SelectOptionAsync(look);
        await tab.Page.Locator(".bar-person summary").TapAsync();
    }

    /// <summary>Says who works and types the PIN on the pad.</summary>
    public static async Task SwitchAsync(this Tab tab, string name, string pin)
    {
        await tab.Page.Locator(".switch-person", new() { HasText = name }).TapAsync();
        foreach (var digit in pin)
        {
            await tab.Page.Locator($"[data-digit=\"{digit}\"]").TapAsync();
        }

        await tab.Page.Locator(".pin-pad button[type=submit]").TapAsync();
    }

    /// <summary>Waits until the bar names somebody.</summary>
    public static Task IsSignedInAsync(this Tab tab, string name) => Expect(tab.Page.Locator(".bar-person summary")).ToContainTextAsync(name);
}
