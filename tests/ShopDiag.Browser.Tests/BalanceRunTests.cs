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

    // Cylinder 4 does no work.
    private static readonly double[] DeadFour = [1, 0.97, 0, 1.03];

    [Fact]
    public async Task A_run_that_is_heard_goes_on_by_itself_and_names_the_dead_cylinder_on_the_sheet()
    {
        await using var browser = await EarBrowser.StartAsync(allowed: true);
        await using var tab = await browser.TabletAsync(shop.Url);
        var page = tab.Page;
        await EngineInTheEar.PutAsync(page, FiringOrder, DeadThree);
        await page.AddInitScriptAsync(SoundScripts.CuesAreNoted);
        var number = await OpenFourAsync(tab);
        await RunUntilHeardAsync(page);

        // Ear and hand were told: two short tones to cancel, a long one to restore, four cylinders each.
        string[] cues = await page.EvaluateAsync<string[]>("window.cues");
        Assert.InRange(cues.Count(c => c == "shake 200,80,200"), 4, 12);
        Assert.InRange(cues.Count(c => c == "shake 600"), 4, 12);
        Assert.InRange(cues.Count(c => c == "tone 6000"), 12, 100);
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
    public async Task A_microphone_that_is_fed_from_a_file_leads_through_the_run_to_the_dead_cylinder_on_the_sheet()
    {
        var file = Path.Combine(Directory.CreateTempSubdirectory("shopdiag-ear-").FullName, "engine.wav");
        await File.WriteAllBytesAsync(file, Sounding(DeadFour, [8, 21.5, 35, 48.5], hold: 4, seconds: 110, IdleHold.Usual));
        await using var browser = await EarBrowser.StartAsync(allowed: true, $"--use-file-for-fake-audio-capture={file}%noloop");
        await using var tab = await browser.TabletAsync(shop.Url);
        var page = tab.Page;
        await OpenFourAsync(tab);

        // The engine of the file goes on whatever the screen says: a page that a busy machine holds up misses it, and listens once more from its beginning.
        for (var left = 3; ; left--)
        {
            await SetUpAsync(page);
            await page.GetByRole(AriaRole.Button, new() { Name = "Listen", Exact = true }).TapAsync();
            await Expect(page).ToHaveURLAsync(new System.Text.RegularExpressions.Regex(@"\?show="), new() { Timeout = 400_000 });
            await Expect(page.Locator(".br-verdicts tr[data-cylinder]")).ToHaveCountAsync(4);
            if (left == 1 || await page.Locator(".br-verdict", new() { HasText = "contributing" }).CountAsync() == 3)
            {
                break;
            }

            await page.GetByRole(AriaRole.Link, new() { Name = "Another run" }).TapAsync();
        }

        await ConfirmAsync(page, "4");
        await page.GetByRole(AriaRole.Link, new() { Name = "Open the workup" }).TapAsync();
        await Expect(page.Cell("power-balance:c4")).ToContainTextAsync("dead");
        await Expect(page.Cell("power-balance:c1")).ToContainTextAsync("contributing");
        Assert.Empty(tab.Complaints);
    }

    [Fact]
    public async Task A_run_that_is_loaded_anew_in_the_middle_of_a_turn_and_paused_goes_on_and_loses_nothing_but_that_turn()
    {
        await using var browser = await EarBrowser.StartAsync(allowed: true);
        await using var tab = await browser.TabletAsync(shop.Url);
        var page = tab.Page;
        await EngineInTheEar.PutAsync(page, FiringOrder, DeadThree);
        await OpenFourAsync(tab);
        await SetUpAsync(page);
        await page.GetByRole(AriaRole.Button, new() { Name = "Listen", Exact = true }).TapAsync();

        await Expect(page.Locator(".br-title")).ToHaveTextAsync("Cancel cylinder 2", new() { Timeout = 200_000 });
        await page.ReloadAsync();
        await tab.AnswersAsync();
        await Expect(page.Locator(".br-run")).ToHaveAttributeAsync("data-phase", "Paused");
        await Expect(page.Locator(".br-title")).ToHaveTextAsync("Restore cylinder 2");
        await Expect(page.Locator(".br-passes")).ToContainTextAsync("taken back");
        await page.GetByRole(AriaRole.Button, new() { Name = "Listen again" }).TapAsync();

        await Expect(page.Locator(".br-run")).ToHaveAttributeAsync("data-phase", "Waiting");
        await page.GetByRole(AriaRole.Button, new() { Name = "Pause", Exact = true }).TapAsync();
        await Expect(page.Locator(".br-line-words")).ToContainTextAsync("Nothing is recorded meanwhile");
        await page.GetByRole(AriaRole.Button, new() { Name = "Go on", Exact = true }).TapAsync();

        await Expect(page).ToHaveURLAsync(new System.Text.RegularExpressions.Regex(@"\?show="), new() { Timeout = 400_000 });
        await Expect(page.Locator(".br-verdicts tr[data-cylinder]")).ToHaveCountAsync(4);
        await Expect(page.Locator(".br-verdicts tr[data-cylinder=\"3\"]")).ToContainTextAsync("dead");
        await Expect(page.Locator(".br-verdicts tr[data-cylinder=\"1\"]")).ToContainTextAsync("contributing");
        await Expect(page.Locator(".br-drops li[data-fate=LeftOut], .br-drops li[data-fate=Counts]").First).ToBeVisibleAsync();
        Assert.Empty(tab.Complaints);
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

        // Gone over again with the cylinders in another order: the second drop is then cylinder 3's, and back.
        await GoOverAgainAsync(page, "4 3 2 1");
        await Expect(page.Locator(".br-verdicts tr[data-cylinder=\"3\"]")).ToContainTextAsync("weak", new() { Timeout = 60_000 });
        await Expect(page.Locator(".br-verdicts tr[data-cylinder=\"2\"]")).Not.ToContainTextAsync("weak");
        await GoOverAgainAsync(page, "1 2 3 4");
        await Expect(page.Locator(".br-verdicts tr[data-cylinder=\"2\"]")).ToContainTextAsync("weak", new() { Timeout = 60_000 });
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
    public async Task What_a_tablets_own_recorder_writes_is_decoded_and_gone_over()
    {
        await using var tab = await chromium.TabletAsync(shop.Url, 768, 1024);
        var page = tab.Page;
        await OpenFourAsync(tab);
        await SetUpAsync(page);
        var wav = Sounding(WeakTwo, [6, 14.5, 23, 31.5], hold: 3, seconds: 40, IdleHold.Usual);
        await page.RouteAsync("**/in-the-ear/run.wav", route => route.FulfillAsync(new() { ContentType = "audio/wav", BodyBytes = wav }));
        Assert.Equal("audio/webm", await page.EvaluateAsync<string>(SoundScripts.RecordedByTheBrowser));
        await page.GetByRole(AriaRole.Button, new() { Name = "Send", Exact = true }).TapAsync();

        await Expect(page).ToHaveURLAsync(new System.Text.RegularExpressions.Regex(@"\?show="), new() { Timeout = 120_000 });
        await Expect(page.Locator(".br-verdicts tr[data-cylinder=\"2\"]")).ToContainTextAsync("weak", new() { Timeout = 60_000 });
        await Expect(page.Locator(".br-verdict", new() { HasText = "contributing" })).ToHaveCountAsync(3);
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
    private static byte[] Recorded(double[] strength) => Sounding(strength, [8, 20, 32, 44], hold: 4, seconds: 60, IdleHold.Usual);

    /// <summary>An engine whose cylinders 1 to 4 are off from these times on, as a file.</summary>
    private static byte[] Sounding(double[] strength, double[] from, double hold, double seconds, IdleHold idle)
    {
        Held[] held = [.. from.Select((at, i) => new Held(Array.IndexOf(FiringOrder, i + 1), at, at + hold))];
        var engine = new EnginePlan { Cylinders = 4, IdleRpm = 750, Strength = strength, Held = held, Seconds = seconds, Wander = 0.003, Hold = idle };
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

    private static async Task GoOverAgainAsync(IPage page, string order)
    {
        await page.GetByLabel("Cylinders, in the order they were cancelled").FillAsync(order);
        await page.GetByLabel("Cylinders, in the order they were cancelled").PressAsync("Tab");
        await page.GetByRole(AriaRole.Button, new() { Name = "Go over it again" }).TapAsync();
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
