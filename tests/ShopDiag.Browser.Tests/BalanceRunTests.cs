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
        await page.AddInitScriptAsync(SoundScripts.WordsAreNoted);
        var number = await OpenFourAsync(tab);
        await RunUntilHeardAsync(page);

        // Each cylinder in turn, without a touch.
        string[] turns = await page.EvaluateAsync<string[]>("window.titles.filter(t => /^(Cancel|Restore) cylinder/.test(t))");
        Assert.Equal(["Cancel cylinder 1", "Restore cylinder 1", "Cancel cylinder 2", "Restore cylinder 2", "Cancel cylinder 3", "Restore cylinder 3", "Cancel cylinder 4", "Restore cylinder 4"], turns);

        // Ear and hand were told: two short tones to cancel, a long one to restore, four cylinders each.
        string[] cues = await page.EvaluateAsync<string[]>("window.cues");
        Assert.InRange(cues.Count(c => c == "shake 200,80,200"), 4, 12);
        Assert.InRange(cues.Count(c => c == "shake 600"), 4, 12);
        Assert.InRange(cues.Count(c => c == "tone 6000"), 12, 100);
        await page.ConfirmDeadAsync(3);

        tab.HasNothingToComplainOf();
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
            await page.SetUpRunAsync();
            await page.ListenAsync();
            await page.IsTakenAsync();
            if (left == 1 || (!await page.MissedOneAsync() && await page.Verdicts("contributing").CountAsync() == 3))
            {
                break;
            }

            await page.AnotherRunAsync();
        }

        await page.ConfirmDeadAsync(4);
        await page.GetByRole(AriaRole.Link, new() { Name = "Open the workup" }).TapAsync();
        await Expect(page.Cell("power-balance:c4")).ToContainTextAsync("dead");
        await Expect(page.Cell("power-balance:c1")).ToContainTextAsync("contributing");
        tab.HasNothingToComplainOf();
    }

    [Fact]
    public async Task A_run_that_is_loaded_anew_in_the_middle_of_a_turn_and_paused_goes_on_and_loses_nothing_but_that_turn()
    {
        await using var browser = await EarBrowser.StartAsync(allowed: true);
        await using var tab = await browser.TabletAsync(shop.Url);
        var page = tab.Page;
        await EngineInTheEar.PutAsync(page, FiringOrder, DeadThree);
        await OpenFourAsync(tab);
        // Whatever is heard, the page comes back and pauses as it should; what a busy machine did not hear is run again in the same way, for only an uninterrupted ear shows that nothing else is lost.
        for (var left = 3; ; left--)
        {
            await InterruptedRunAsync(tab);
            if (left == 1 || !await page.MissedOneAsync())
            {
                break;
            }

            await Expect(page.Locator("main")).ToContainTextAsync("The sound is not clear");
            await page.AnotherRunAsync();
        }

        await Expect(page.Verdict(3)).ToContainTextAsync("dead");
        await Expect(page.Verdict(1)).ToContainTextAsync("contributing");
        await Expect(page.Locator(".br-drops li[data-fate=LeftOut], .br-drops li[data-fate=Counts]").First).ToBeVisibleAsync();
        tab.HasNothingToComplainOf();
    }

    [Fact]
    public async Task Typed_speeds_take_the_same_way_and_survive_a_reload()
    {
        await using var tab = await chromium.TabletAsync(shop.Url, 1024, 768);
        var page = tab.Page;
        await page.AddInitScriptAsync(SoundScripts.WordsAreNoted);
        await OpenFourAsync(tab);
        await page.SetUpRunAsync();
        // What is set before the run survives a reload as well.
        await page.ReloadAsync();
        await tab.AnswersAsync();
        await Expect(page.GetByLabel("Times round")).ToHaveValueAsync("1");
        await Expect(page.GetByLabel("Rest between")).ToHaveValueAsync("5");
        await Expect(page.GetByLabel("Cylinders, in the order you cancel them")).ToHaveValueAsync("1 2 3 4");
        await Expect(page.GetByLabel("Rough engine speed during the test")).ToHaveValueAsync("760");
        await page.GetByRole(AriaRole.Button, new() { Name = "Type", Exact = true }).TapAsync();

        await Expect(page.Locator(".br-title")).ToHaveTextAsync("Cylinder 1");
        await page.TypeSpeedsAsync(1, "752", "690");
        await page.GetByRole(AriaRole.Button, new() { Name = "Cancel now" }).TapAsync();
        await Expect(page.Locator(".br-title")).ToHaveTextAsync("Restore cylinder 1");
        await CountedDownAsync(page);
        await page.GetByRole(AriaRole.Button, new() { Name = "Next cylinder" }).TapAsync();
        await page.TypeSpeedsAsync(2, "750", "688");
        await page.TypeSpeedsAsync(3, "749", "748");

        await page.ReloadAsync();
        await tab.AnswersAsync();
        await Expect(page.GetByLabel("Cylinder 3: Lowest speed without it")).ToHaveValueAsync("748");
        await Expect(page.Locator(".br-title")).ToHaveTextAsync("Cylinder 4");
        await page.TypeSpeedsAsync(4, "751", "687");
        await page.ConfirmDeadAsync(3);
        await page.GetByRole(AriaRole.Link, new() { Name = "Open the workup" }).TapAsync();
        await Expect(page.Cell("power-balance:c3")).ToContainTextAsync("dead");
        tab.HasNothingToComplainOf();
    }

    [Fact]
    public async Task A_recording_made_elsewhere_is_sent_gone_over_and_put_on_the_sheet()
    {
        await using var tab = await chromium.TabletAsync(shop.Url, 768, 1024);
        var page = tab.Page;
        var number = await OpenFourAsync(tab);
        await page.SetUpRunAsync();
        var wav = Recorded(WeakTwo);
        await page.GetByLabel("The recording").SetInputFilesAsync(new FilePayload { Name = "run.wav", MimeType = "audio/wav", Buffer = wav });
        await page.GetByRole(AriaRole.Button, new() { Name = "Send", Exact = true }).TapAsync();

        await Expect(page).ToHaveURLAsync(new System.Text.RegularExpressions.Regex(@"\?show="));
        await Expect(page.Verdict(2)).ToContainTextAsync("weak");

        // Gone over again with the cylinders in another order: the second drop is then cylinder 3's, and back.
        await page.GoOverAgainAsync("4 3 2 1");
        await Expect(page.Verdict(3)).ToContainTextAsync("weak");
        await Expect(page.Verdict(2)).Not.ToContainTextAsync("weak");
        await page.GoOverAgainAsync("1 2 3 4");
        await Expect(page.Verdict(2)).ToContainTextAsync("weak");
        await page.PutOnSheetAsync();

        // Deleted, and got back.
        await tab.OpenAsync($"/orders/{number}/balance-run");
        await page.GetByRole(AriaRole.Button, new() { Name = "Delete" }).TapAsync();
        await Expect(page.Locator(".br-recording")).ToHaveCountAsync(0);
        await page.GetByRole(AriaRole.Button, new() { Name = "Undo" }).TapAsync();
        await Expect(page.Locator(".br-recording")).ToContainTextAsync("on the sheet");
        tab.HasNothingToComplainOf();
    }

    [Fact]
    public async Task What_a_tablets_own_recorder_writes_is_decoded_and_gone_over()
    {
        await using var tab = await chromium.TabletAsync(shop.Url, 768, 1024);
        var page = tab.Page;
        await OpenFourAsync(tab);
        var wav = Sounding(WeakTwo, [6, 14.5, 23, 31.5], hold: 3, seconds: 40, IdleHold.Usual);
        await page.RouteAsync("**/in-the-ear/run.wav", route => route.FulfillAsync(new() { ContentType = "audio/wav", BodyBytes = wav }));
        // The recorder records as time passes: what a busy machine loses is missing in its file, and it is recorded once more.
        for (var left = 3; ; left--)
        {
            await page.SetUpRunAsync();
            Assert.Equal("audio/webm", await page.EvaluateAsync<string>(SoundScripts.RecordedByTheBrowser));
            await page.GetByRole(AriaRole.Button, new() { Name = "Send", Exact = true }).TapAsync();
            await page.IsTakenAsync();
            if (left == 1 || (!await page.MissedOneAsync() && await page.Verdicts("contributing").CountAsync() == 3))
            {
                break;
            }

            await page.AnotherRunAsync();
        }

        await Expect(page.Verdict(2)).ToContainTextAsync("weak");
        await Expect(page.Verdicts("contributing")).ToHaveCountAsync(3);
        tab.HasNothingToComplainOf();
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
    /// Runs it. A machine so busy that its browser cannot keep up with the sound loses some: the run holds, or says which cylinder was not clear. As a technician would, it is then run again.
    /// </summary>
    private static async Task RunUntilHeardAsync(IPage page)
    {
        for (var left = 3; ; left--)
        {
            await page.EvaluateAsync("() => { window.cues = []; window.titles = []; }");
            await page.SetUpRunAsync();
            await page.ListenAsync();

            // From here on nobody touches the tablet until all cylinders were taken.
            var held = await page.IsTakenAsync();
            Assert.Empty(await EngineInTheEar.LeftOnAsync(page));
            var missed = await page.MissedOneAsync();
            if (left == 1 || (!missed && held == 0))
            {
                Assert.Equal(0, held);
                return;
            }

            if (missed)
            {
                await Expect(page.Locator("main")).ToContainTextAsync("The sound is not clear");
            }

            await page.AnotherRunAsync();
        }
    }

    /// <summary>A run whose page is loaded anew while cylinder 2 is to be cancelled, and which is then paused.</summary>
    private static async Task InterruptedRunAsync(Tab tab)
    {
        var page = tab.Page;
        await page.SetUpRunAsync();
        await page.ListenAsync();
        await tab.ReloadAtAsync("Cancel cylinder 2");
        await Expect(page.Locator(".br-run")).ToHaveAttributeAsync("data-phase", "Paused");
        await Expect(page.Locator(".br-title")).ToHaveTextAsync("Restore cylinder 2");
        await Expect(page.Locator(".br-passes")).ToContainTextAsync("taken back");

        await page.ListenAgainAndPauseAsync();
        await Expect(page.Locator(".br-run")).ToHaveAttributeAsync("data-phase", "Paused");
        await Expect(page.Locator(".br-line-words")).ToContainTextAsync("Nothing is recorded meanwhile");
        await page.TakeUpAsync();
        await page.IsTakenAsync();
    }

    /// <summary>The second hand went down once, from three at most, and then it was said to restore.</summary>
    private static async Task CountedDownAsync(IPage page)
    {
        Assert.Equal(["Cancel cylinder 1", "Restore cylinder 1"], await page.EvaluateAsync<string[]>("window.titles.filter(t => /^(Cancel|Restore) cylinder/.test(t))"));
        var seconds = await page.EvaluateAsync<string[]>("window.counts.filter(t => /^[0-9]+$/.test(t))");
        Assert.NotEmpty(seconds);
        Assert.All(seconds, s => Assert.Matches("^[123]$", s));
        Assert.Equal(seconds.Distinct().OrderDescending(), seconds);
    }

    private static async Task<int> OpenFourAsync(Tab tab)
    {
        await tab.OpenAsync("/orders");
        var number = await tab.Page.NewOrderAsync();
        await tab.Page.PickEngineAsync("four in line 1-3-4-2 coil on plug port", "Four in line, 1-3-4-2, coil on plug, port injection");
        await tab.OpenAsync($"/orders/{number}/balance-run");
        return number;
    }

    private static async Task RecordingIsPlayedAsync(Tab tab, int number)
    {
        await tab.OpenAsync($"/orders/{number}/balance-run");
        var sound = tab.Page.Locator(".br-recording audio").First;
        var answer = await tab.Context.APIRequest.GetAsync((await sound.GetAttributeAsync("src"))!, new() { Headers = new Dictionary<string, string> { ["Range"] = "bytes=0-43" } });
        Assert.Equal((206, "audio/wav", 44), (answer.Status, answer.Headers["content-type"], (await answer.BodyAsync()).Length));
    }
}
