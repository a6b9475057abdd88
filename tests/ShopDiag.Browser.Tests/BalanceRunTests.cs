using Microsoft.Playwright;
using ShopDiag.Browser.Tests.Pages;
using ShopDiag.Browser.Tests.Running;
using ShopDiag.Signals.Measured.Engines;
using static Microsoft.Playwright.Assertions;

namespace ShopDiag.Browser.Tests;

public sealed class BalanceRunTests(Chromium chromium, DemoShop shop) : IClassFixture<DemoShop>
{
    private static readonly int[] FiringOrder = [1, 3, 4, 2];

    // In firing order 1-3-4-2: cylinder 3 does no work; cylinder 2 does little.
    private static readonly double[] DeadThree = [1, 0, 1.04, 0.96];
    private static readonly double[] WeakTwo = [1, 0.97, 1.03, 0.55];

    [Fact]
    public async Task A_run_that_is_heard_goes_on_by_itself_and_names_the_dead_cylinder_on_the_sheet()
    {
        await using var browser = await EarBrowser.StartAsync(allowed: true);
        await using var tab = await browser.TabletAsync(shop.Url);
        var page = tab.Page;
        await EngineInTheEar.PutAsync(page, FiringOrder, DeadThree);
        var number = await OpenFourAsync(tab);
        await RunUntilHeardAsync(page);
        await ConfirmAsync(page, "3");

        Assert.Empty(tab.Complaints);
        await page.GetByRole(AriaRole.Link, new() { Name = "Open the workup" }).TapAsync();
        await page.SheetIsThereAsync();
        foreach (var cylinder in FiringOrder)
        {
            await Expect(page.Cell($"power-balance:c{cylinder}")).ToContainTextAsync(cylinder == 3 ? "dead" : "contributing");
        }

        await RecordingIsPlayedAsync(tab, number);
    }

    [Fact]
    public async Task Typed_speeds_take_the_same_way_and_survive_a_reload()
    {
        await using var tab = await chromium.TabletAsync(shop.Url, 1024, 768);
        var page = tab.Page;
        await OpenFourAsync(tab);
        await SetUpAsync(page);
        // What is set before the run survives a reload as well.
        await page.ReloadAsync();
        await tab.AnswersAsync();
        await Expect(page.GetByLabel("Times round")).ToHaveValueAsync("1");
        await Expect(page.GetByLabel("Rest between")).ToHaveValueAsync("5");
        await Expect(page.GetByLabel("Cylinders, in the order you cancel them")).ToHaveValueAsync("1 2 3 4");
        await Expect(page.GetByLabel("Rough engine speed during the test")).ToHaveValueAsync("760");
        await page.GetByRole(AriaRole.Button, new() { Name = "Type", Exact = true }).TapAsync();

        await Expect(page.Locator(".br-title")).ToHaveTextAsync("Cylinder 1");
        await TypeAsync(page, 1, "752", "690");
        await page.GetByRole(AriaRole.Button, new() { Name = "Cancel now" }).TapAsync();
        await Expect(page.Locator(".br-title")).ToHaveTextAsync("Cancel cylinder 1");
        await Expect(page.Locator("[data-br-count]")).ToHaveTextAsync(new System.Text.RegularExpressions.Regex("^[123]$"));
        await Expect(page.Locator(".br-title")).ToHaveTextAsync("Restore cylinder 1", new() { Timeout = 10_000 });
        await page.GetByRole(AriaRole.Button, new() { Name = "Next cylinder" }).TapAsync();
        await TypeAsync(page, 2, "750", "688");
        await TypeAsync(page, 3, "749", "748");

        await page.ReloadAsync();
        await tab.AnswersAsync();
        await Expect(page.GetByLabel("Cylinder 3: Lowest speed without it")).ToHaveValueAsync("748");
        await Expect(page.Locator(".br-title")).ToHaveTextAsync("Cylinder 4");
        await TypeAsync(page, 4, "751", "687");
        await ConfirmAsync(page, "3");
        await page.GetByRole(AriaRole.Link, new() { Name = "Open the workup" }).TapAsync();
        await Expect(page.Cell("power-balance:c3")).ToContainTextAsync("dead");
        Assert.Empty(tab.Complaints);
    }

    [Fact]
    public async Task A_recording_made_elsewhere_is_sent_gone_over_and_put_on_the_sheet()
    {
        await using var tab = await chromium.TabletAsync(shop.Url, 768, 1024);
        var page = tab.Page;
        var number = await OpenFourAsync(tab);
        await SetUpAsync(page);
        var wav = Recorded(WeakTwo);
        await page.GetByLabel("The recording").SetInputFilesAsync(new FilePayload { Name = "run.wav", MimeType = "audio/wav", Buffer = wav });
        await page.GetByRole(AriaRole.Button, new() { Name = "Send", Exact = true }).TapAsync();

        await Expect(page).ToHaveURLAsync(new System.Text.RegularExpressions.Regex(@"\?show="), new() { Timeout = 60_000 });
        await Expect(page.Locator(".br-verdicts tr[data-cylinder=\"2\"]")).ToContainTextAsync("weak", new() { Timeout = 60_000 });
        // "All the same", where the machine was so busy that a turn is doubted.
        await page.GetByRole(AriaRole.Button, new() { NameRegex = new("^Put them on the (cylinder sheet|sheet all the same)$") }).TapAsync();
        await Expect(page.GetByText("On the cylinder sheet.")).ToBeVisibleAsync();

        // Deleted, and got back.
        await tab.OpenAsync($"/orders/{number}/balance-run");
        await page.GetByRole(AriaRole.Button, new() { Name = "Delete" }).TapAsync();
        await Expect(page.Locator(".br-recording")).ToHaveCountAsync(0);
        await page.GetByRole(AriaRole.Button, new() { Name = "Undo" }).TapAsync();
        await Expect(page.Locator(".br-recording")).ToContainTextAsync("on the sheet");
        Assert.Empty(tab.Complaints);
    }

    [Fact]
    public async Task Over_plain_http_it_is_said_why_the_tablet_cannot_listen_and_what_to_do()
    {
        await using var open = await ShopServer.StartAsync(demo: true, toNetwork: true);
        await using var browser = await EarBrowser.StartAsync(allowed: false, "--host-resolver-rules=MAP shop.test 127.0.0.1");
        await using var tab = await browser.TabletAsync($"http://shop.test:{open.Port}");
        await OpenFourAsync(tab);

        await Expect(tab.Page.Locator(".br-sources")).ToContainTextAsync("only over https");
        await Expect(tab.Page.Locator(".br-sources")).ToContainTextAsync("--https");
        await Expect(tab.Page.GetByRole(AriaRole.Button, new() { Name = "Listen", Exact = true })).ToBeDisabledAsync();
        await Expect(tab.Page.GetByRole(AriaRole.Button, new() { Name = "Send", Exact = true })).ToBeEnabledAsync();
    }

    [Fact]
    public async Task A_microphone_that_is_refused_or_missing_is_said_and_the_page_stays_usable()
    {
        await using var tab = await chromium.TabletAsync(shop.Url, 1024, 768);
        await OpenFourAsync(tab);
        await tab.Page.GetByRole(AriaRole.Button, new() { Name = "Listen", Exact = true }).TapAsync();

        await Expect(tab.Page.Locator("#br-problem")).ToContainTextAsync(new System.Text.RegularExpressions.Regex("microphone was refused|has no microphone"));
        await Expect(tab.Page.Locator("#br-problem")).ToContainTextAsync("or type the speeds");
        await Expect(tab.Page.GetByRole(AriaRole.Button, new() { Name = "Type", Exact = true })).ToBeEnabledAsync();
    }

    /// <summary>What somebody records by himself: a quiet engine, twelve seconds from one cylinder to the next.</summary>
    private static byte[] Recorded(double[] strength)
    {
        var held = new[] { 1, 2, 3, 4 }.Select((c, i) => new Held(Array.IndexOf(FiringOrder, c), 8 + (12 * i), 12 + (12 * i))).ToArray();
        var engine = new EnginePlan { Cylinders = 4, IdleRpm = 750, Strength = strength, Held = held, Seconds = 60, Wander = 0.003 };
        return WavFile.Of(EngineVoice.Sound(CrankSimulation.Run(engine, 31), 4, new Microphone(), 16000, 32), 16000);
    }

    /// <summary>
    /// Runs it. A machine so busy that its browser cannot keep up with the sound loses some, and the run says which cylinder was not clear: as a technician would, it is then run again.
    /// </summary>
    private static async Task RunUntilHeardAsync(IPage page)
    {
        for (var left = 3; ; left--)
        {
            await SetUpAsync(page);
            await page.GetByRole(AriaRole.Button, new() { Name = "Listen", Exact = true }).TapAsync();

            // From here on nobody touches the tablet until all cylinders were taken.
            await Expect(page.Locator(".br-run")).ToHaveAttributeAsync("data-phase", "Ready", new() { Timeout = 60_000 });
            await Expect(page.Locator(".br-title")).ToHaveTextAsync("Cancel cylinder 1");
            await Expect(page).ToHaveURLAsync(new System.Text.RegularExpressions.Regex(@"\?show="), new() { Timeout = 400_000 });
            Assert.Empty(await EngineInTheEar.LeftOnAsync(page));
            await Expect(page.Locator(".br-verdicts tr[data-cylinder]")).ToHaveCountAsync(4);
            if (left == 1 || await page.Locator(".br-verdicts", new() { HasText = "not measured" }).CountAsync() == 0)
            {
                return;
            }

            await Expect(page.Locator("main")).ToContainTextAsync("The sound is not clear");
            await page.GetByRole(AriaRole.Link, new() { Name = "Another run" }).TapAsync();
        }
    }

    private static async Task TypeAsync(IPage page, int cylinder, string before, string without)
    {
        await page.GetByLabel($"Cylinder {cylinder}: Speed before").FillAsync(before);
        await page.GetByLabel($"Cylinder {cylinder}: Lowest speed without it").FillAsync(without);
    }

    /// <summary>The verdict on the page, then on to the sheet.</summary>
    private static async Task ConfirmAsync(IPage page, string dead)
    {
        await Expect(page.Locator($".br-verdicts tr[data-cylinder=\"{dead}\"]")).ToContainTextAsync("dead");
        await Expect(page.Locator(".br-bar")).ToHaveCountAsync(4);
        await Expect(page.Locator(".br-verdict", new() { HasText = "contributing" })).ToHaveCountAsync(3);
        // "All the same", where the machine was so busy that a turn is doubted.
        await page.GetByRole(AriaRole.Button, new() { NameRegex = new("^Put them on the (cylinder sheet|sheet all the same)$") }).TapAsync();
        await Expect(page.GetByText("On the cylinder sheet.")).ToBeVisibleAsync();
    }

    private static async Task<int> OpenFourAsync(Tab tab)
    {
        await tab.OpenAsync("/orders");
        var number = await tab.Page.NewOrderAsync();
        await tab.Page.PickEngineAsync("four in line 1-3-4-2 coil on plug port", "Four in line, 1-3-4-2, coil on plug, port injection");
        await tab.OpenAsync($"/orders/{number}/balance-run");
        return number;
    }

    private static async Task SetUpAsync(IPage page)
    {
        await page.GetByLabel("Times round").SelectOptionAsync("1");
        await page.GetByLabel("Rest between").SelectOptionAsync("5");
        await page.GetByLabel("Cylinders, in the order you cancel them").FillAsync("1 2 3 4");
        await page.GetByLabel("Rough engine speed during the test").FillAsync("760");
        await page.GetByLabel("Rough engine speed during the test").PressAsync("Tab");
    }

    private static async Task RecordingIsPlayedAsync(Tab tab, int number)
    {
        await tab.OpenAsync($"/orders/{number}/balance-run");
        var sound = tab.Page.Locator(".br-recording audio").First;
        var answer = await tab.Context.APIRequest.GetAsync((await sound.GetAttributeAsync("src"))!, new() { Headers = new Dictionary<string, string> { ["Range"] = "bytes=0-43" } });
        Assert.Equal((206, "audio/wav", 44), (answer.Status, answer.Headers["content-type"], (await answer.BodyAsync()).Length));
    }
}
