using Bunit;
using Microsoft.AspNetCore.Components;
using Microsoft.Extensions.DependencyInjection;
using ShopDiag.Diagnosis;
using ShopDiag.Diagnosis.Learning;
using ShopDiag.Web.Components.Pages;
using ShopDiag.Web.Saving;
using ShopDiag.Web.Shop;
using ShopDiag.Web.Tests.Support;

namespace ShopDiag.Web.Tests.Shop;

/// <summary>The page that shows what the shop's own cases do, on a real database.</summary>
public sealed class LearningPageTests : PageTest, IAsyncLifetime
{
    private const string Four = "i4-1342-coil-on-plug-port";
    private const string WasteSpark = "i4-1342-waste-spark-port";
    private TestShop _shop = null!;

    public async ValueTask InitializeAsync()
    {
        _shop = await TestShop.OpenAsync();
        Use(_shop);
    }

    async ValueTask IAsyncDisposable.DisposeAsync()
    {
        await base.DisposeAsync();
        await _shop.DisposeAsync();
    }

    [Fact]
    public void Without_cases_the_table_says_that_all_is_as_shipped()
    {
        var page = Open("");
        Assert.Contains("Nothing has been proven yet", page.Find("p[role=status]").TextContent, StringComparison.Ordinal);
        var rows = Rows(page);
        Assert.Equal(Knowledge.Shipped.Causes.Length, rows.Length);
        Assert.All(rows, r => Assert.EndsWith("as shipped", r, StringComparison.Ordinal));
    }

    [Fact]
    public async Task Each_cause_shows_its_share_as_shipped_the_cases_and_the_share_with_them()
    {
        await _shop.ProveAsync(Four, "plug-worn", 30);
        var page = Open("");
        var knowledge = Knowledge.Shipped;
        var shipped = knowledge.Cause("plug-worn")!.Weight / knowledge.Causes.Sum(c => c.Weight);
        var learned = PriorLearning.Overall([new CaseCount("plug-worn", Family(Four), 30)], knowledge).Causes.Single(c => c.Cause == "plug-worn").Learned;
        Assert.InRange(learned, 2 * shipped, 1);
        // The most common comes first.
        Assert.Equal($"{knowledge.Cause("plug-worn")!.Title}|{Percent(shipped)}|30|{Percent(learned)}|{Number(learned / shipped)} times as common", Rows(page)[0]);
    }

    [Fact]
    public async Task The_engines_are_chosen_by_touch_and_it_is_said_when_they_have_too_few_cases()
    {
        await _shop.ProveAsync(Four, "plug-worn", 3);
        await _shop.ProveAsync(WasteSpark, "shared-coil-failed", 2);
        var page = Open("");
        Assert.Equal(
            ["All engines|5 proven cases", "I4, coil on plug, port injection|3 proven cases", "I4, waste spark (one coil a pair), port injection|2 proven cases"],
            page.FindAll(".learning-families a").Select(a => $"{a.FirstChild!.TextContent}|{a.QuerySelector("span")!.TextContent}"));
        Assert.Equal("2 engines with fewer than 20 cases", page.Find("summary").TextContent);
        page = Open(Family(WasteSpark).Id);
        Assert.True(page.Find("details").HasAttribute("open"));
        Assert.Equal("I4, waste spark (one coil a pair), port injection", page.Find("[aria-current=page]").FirstChild!.TextContent);
        Assert.Equal("2 proven cases on such engines, 20 are needed. Until then the 5 proven cases of all engines decide.", page.Find("p[role=status]").TextContent);
        // A cause that such an engine cannot have is not on its list.
        Assert.DoesNotContain(Rows(page), r => r.StartsWith(Knowledge.Shipped.Cause("distributor-cap-rotor")!.Title, StringComparison.Ordinal));
    }

    [Fact]
    public async Task Engines_with_cases_enough_speak_for_themselves()
    {
        await _shop.ProveAsync(Four, "coil-failed", 1);
        await _shop.ProveAsync(WasteSpark, "shared-coil-failed", PriorLearning.EnoughOfFamily);
        Assert.StartsWith("20 proven cases on such engines: they speak for themselves.", Open(Family(WasteSpark).Id).Find("p[role=status]").TextContent, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_number_of_cases_opens_the_orders_behind_it()
    {
        await _shop.ProveAsync(Four, "plug-worn", 2);
        await _shop.ProveAsync(WasteSpark, "plug-worn", 1);
        var page = Open(Family(Four).Id);
        await page.Find("tbody button").ClickAsync();
        page.WaitForAssertion(() => Assert.Equal(["/orders/1002?part=finding", "/orders/1001?part=finding"], page.FindAll(".learning-orders a").Select(a => a.GetAttribute("href"))));
        Assert.Equal("true", page.Find("tbody button").GetAttribute("aria-expanded"));
        await page.Find("tbody button").ClickAsync();
        Assert.Empty(page.FindAll(".learning-orders"));
    }

    [Fact]
    public async Task The_switch_is_saved_and_the_page_says_that_it_is_off()
    {
        var page = Open("");
        Assert.DoesNotContain("Turned off.", page.Markup, StringComparison.Ordinal);
        await page.Find("input[type=radio][value=no]").TriggerEventAsync("onjournalled", new JournalledEventArgs { Value = "no", Base = "yes", Sequence = 1, Id = Guid.NewGuid() });
        // What was chosen is saved after a short pause.
        _shop.Time.Advance(FieldSaving.Pause);
        page.WaitForAssertion(() => Assert.Contains("Turned off.", page.Markup, StringComparison.Ordinal));
        Assert.False((await _shop.Shops.GetAsync())!.LearnFromCases);
    }

    [Theory]
    [InlineData("no-such-engine")]
    [InlineData("")]
    public void An_address_that_names_no_engine_shows_all(string family) =>
        Assert.StartsWith("All engines", Open(family).Find("[aria-current=page]").TextContent, StringComparison.Ordinal);

    private static EngineFamily Family(string profile) => EngineFamily.Of(Knowledge.Shipped.Profiles.Single(p => p.Id == profile).Spec);

    private static string Percent(double share) => LearningWords.Share(share);

    private static string Number(double factor) => Math.Round(factor, 1, MidpointRounding.AwayFromZero).ToString(System.Globalization.CultureInfo.InvariantCulture);

    private static string[] Rows(IRenderedComponent<LearningPage> page) =>
        [.. page.FindAll("tbody tr").Select(r => string.Join('|', r.Children.Select(c => c.TextContent.Trim())))];

    private IRenderedComponent<LearningPage> Open(string family)
    {
        Services.GetRequiredService<NavigationManager>().NavigateTo($"/shop/learning?family={Uri.EscapeDataString(family)}");
        var page = Render<LearningPage>();
        page.WaitForElement(".learning");
        return page;
    }
}
