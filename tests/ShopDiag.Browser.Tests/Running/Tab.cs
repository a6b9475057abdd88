using System.Collections.Concurrent;
using Microsoft.Playwright;

namespace ShopDiag.Browser.Tests.Running;

/// <summary>A page in a context of its own, with what it complained of on its console.</summary>
public sealed class Tab : IAsyncDisposable
{
    private readonly ConcurrentQueue<string> _complaints = new();

    internal Tab(IBrowserContext context, IPage page)
    {
        (Context, Page) = (context, page);
        page.Console += (_, message) =>
        {
            if (message.Type is "error" && !IsHarmless(message.Text))
            {
                _complaints.Enqueue($"{page.Url}: {message.Text}");
            }
        };
        page.PageError += (_, error) => _complaints.Enqueue($"{page.Url}: {error}");
    }

    public IBrowserContext Context { get; }

    /// <summary>True for a second page in the context of another tab, which ends it.</summary>
    public bool KeepsContext { get; init; }

    public IPage Page { get; }

    /// <summary>Errors on the console and exceptions of scripts, with the page they came from.</summary>
    public IReadOnlyCollection<string> Complaints => _complaints;

    /// <summary>Fails with every complaint in full: a shortened list does not tell what went wrong on a machine one cannot go to.</summary>
    public void HasNothingToComplainOf() => Assert.True(_complaints.IsEmpty, string.Join("\n", _complaints));

    /// <summary>Opens a page and waits until its circuit answers: a touch before that would be lost.</summary>
    public async Task OpenAsync(string path)
    {
        await Page.GotoAsync(path);
        await AnswersAsync();
    }

    /// <summary>Waits until the circuit of the page answers.</summary>
    public Task AnswersAsync() => Assertions.Expect(Page.Locator("main[data-interactive]")).ToBeAttachedAsync();

    public async ValueTask DisposeAsync()
    {
        await TellAsync();
        if (KeepsContext)
        {
            await Page.CloseAsync();
        }
        else
        {
            await Context.DisposeAsync();
        }
    }

    // Shown with a test that failed: where the page stood and what it complained of, which nobody can look up afterwards on another machine.
    private async Task TellAsync()
    {
        var state = "";
        try
        {
            state = await Page.EvaluateAsync<string>(
                "[location.pathname, document.documentElement.dataset.connection, document.getElementById('saving')?.textContent, document.activeElement?.id, document.activeElement?.value, "
                + "document.querySelector('[data-entry]')?.innerText].filter(t => t).join(' | ').replaceAll('\\n', ' ')");
        }
        catch (PlaywrightException)
        {
            // The page or the whole browser is gone.
        }

        TestContext.Current.TestOutputHelper?.WriteLine($"Page: {state}");
        TestContext.Current.TestOutputHelper?.WriteLine($"Complaints: {string.Join("\n", _complaints)}");
    }

    // The component library starts its popovers anew when a circuit resumes, and says so as an error.
    private static bool IsHarmless(string text) => text.Contains("Popover Service already initialized", StringComparison.Ordinal);
}
