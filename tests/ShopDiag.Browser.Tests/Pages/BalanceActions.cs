using System.Text.RegularExpressions;
using Microsoft.Playwright;
using ShopDiag.Browser.Tests.Running;
using static Microsoft.Playwright.Assertions;

namespace ShopDiag.Browser.Tests.Pages;

/// <summary>What a technician does on a guided balance run, and how he helps himself where a busy machine loses sound.</summary>
internal static class BalanceActions
{
    /// <summary>A run of four cylinders takes two minutes; the page may be held up.</summary>
    private const int RunTime = 400_000;

    /// <summary>A button that was there a moment ago may have gone with its phase.</summary>
    private const int Moment = 5_000;

    /// <summary>Once round cylinders 1 to 4 at an idle of about 760.</summary>
    public static async Task SetUpRunAsync(this IPage page)
    {
        await page.GetByLabel("Times round").SelectOptionAsync("1");
        await page.GetByLabel("Rest between").SelectOptionAsync("5");
        await page.GetByLabel("Cylinders, in the order you cancel them").FillAsync("1 2 3 4");
        await page.GetByLabel("Rough engine speed during the test").FillAsync("760");
        await page.GetByLabel("Rough engine speed during the test").PressAsync("Tab");
    }

    /// <summary>Lets the tablet listen.</summary>
    public static Task ListenAsync(this IPage page) => page.GetByRole(AriaRole.Button, new() { Name = "Listen", Exact = true }).TapAsync();

    /// <summary>The verdict on a cylinder.</summary>
    public static ILocator Verdict(this IPage page, int cylinder) => page.Locator($".br-verdicts tr[data-cylinder=\"{cylinder}\"]");

    /// <summary>The verdicts of a word.</summary>
    public static ILocator Verdicts(this IPage page, string word) => page.Locator(".br-verdict", new() { HasText = word });

    /// <summary>Waits until the run is over and each cylinder has its row, and answers how often the run held because no sound came: it does so after 2.5 s, and somebody has to take it up again.</summary>
    public static async Task<int> IsTakenAsync(this IPage page)
    {
        var held = await page.UnlessHeldAsync(page.Locator(".br-verdicts tr[data-cylinder]").First);
        await Expect(page).ToHaveURLAsync(new Regex(@"\?show="));
        await Expect(page.Locator(".br-verdicts tr[data-cylinder]")).ToHaveCountAsync(4);
        return held;
    }

    /// <summary>True where the run says of a cylinder that it did not hear it: sound was lost.</summary>
    public static async Task<bool> MissedOneAsync(this IPage page)
    {
        // The speeds and what is not measured come at once; the verdicts a moment later.
        if (await page.Locator(".br-verdicts", new() { HasText = "not measured" }).CountAsync() > 0)
        {
            return true;
        }

        await Expect(page.Locator(".br-verdict")).ToHaveCountAsync(4);
        return false;
    }

    /// <summary>Loads the page anew as soon as it says <paramref name="title"/>. From within it: asked for from outside, the turn may be over before it happens.</summary>
    public static async Task ReloadAtAsync(this Tab tab, string title)
    {
        await tab.Page.EvaluateAsync(
            """
            title => {
              document.documentElement.dataset.before = '';
              new MutationObserver(() => { if (document.querySelector('.br-title')?.textContent.trim() === title) location.reload(); })
                .observe(document.body, { subtree: true, childList: true, characterData: true });
            }
            """, title);
        await tab.Page.UnlessHeldAsync(tab.Page.Locator("html:not([data-before]) .br-run"));
        await tab.AnswersAsync();
    }

    /// <summary>Takes a held run up again, and pauses it by hand.</summary>
    public static async Task ListenAgainAndPauseAsync(this IPage page)
    {
        var pause = page.GetByRole(AriaRole.Button, new() { Name = "Pause", Exact = true });
        await page.TakeUpAsync();
        for (var left = 5; ; left--)
        {
            await page.UnlessHeldAsync(pause);
            try
            {
                await pause.TapAsync(new() { Timeout = left == 1 ? null : Moment });
                return;
            }
            catch (TimeoutException) when (left > 1)
            {
                // No sound came just then, so that the run held by itself.
            }
        }
    }

    /// <summary>Takes a run up again that was paused or held by itself, and waits until it has gone on: until then its button still stands there and would be taken for a second pause.</summary>
    public static async Task TakeUpAsync(this IPage page)
    {
        var run = page.Locator(".br-run");
        var turn = await run.GetAttributeAsync("data-turn") ?? "";
        await GoOn(page).TapAsync();
        await Expect(run).Not.ToHaveAttributeAsync("data-turn", turn);
    }

    /// <summary>Goes over a recording again with the cylinders in another order.</summary>
    public static async Task GoOverAgainAsync(this IPage page, string order)
    {
        await page.GetByLabel("Cylinders, in the order they were cancelled").FillAsync(order);
        await page.GetByLabel("Cylinders, in the order they were cancelled").PressAsync("Tab");
        await page.GetByRole(AriaRole.Button, new() { Name = "Go over it again" }).TapAsync();
    }

    /// <summary>From the outcome back to the settings, which stay.</summary>
    public static Task AnotherRunAsync(this IPage page) => page.GetByRole(AriaRole.Link, new() { Name = "Another run" }).TapAsync();

    /// <summary>Types the speeds of a cylinder.</summary>
    public static async Task TypeSpeedsAsync(this IPage page, int cylinder, string before, string without)
    {
        await page.GetByLabel($"Cylinder {cylinder}: Speed before").FillAsync(before);
        await page.GetByLabel($"Cylinder {cylinder}: Lowest speed without it").FillAsync(without);
    }

    /// <summary>One dead cylinder among four, on the page and then on the sheet.</summary>
    public static async Task ConfirmDeadAsync(this IPage page, int dead)
    {
        await Expect(page.Verdict(dead)).ToContainTextAsync("dead");
        await Expect(page.Locator(".br-bar")).ToHaveCountAsync(4);
        await Expect(page.Verdicts("contributing")).ToHaveCountAsync(3);
        await page.PutOnSheetAsync();
    }

    /// <summary>On to the sheet; "all the same", where the machine was so busy that a turn is doubted.</summary>
    public static async Task PutOnSheetAsync(this IPage page)
    {
        await page.GetByRole(AriaRole.Button, new() { NameRegex = new("^Put them on the (cylinder sheet|sheet all the same)$") }).TapAsync();
        await Expect(page.GetByText("On the cylinder sheet.")).ToBeVisibleAsync();
    }

    private static ILocator GoOn(IPage page) => page.GetByRole(AriaRole.Button, new() { NameRegex = new("^(Go on|Listen again)$") });

    private static async Task<int> UnlessHeldAsync(this IPage page, ILocator there)
    {
        for (var held = 0; ; held++)
        {
            await Expect(there.Or(GoOn(page)).First).ToBeVisibleAsync(new() { Timeout = RunTime });
            if (await there.IsVisibleAsync())
            {
                return held;
            }

            await page.TakeUpAsync();
        }
    }
}
