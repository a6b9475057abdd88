using Bunit;
using Microsoft.AspNetCore.Components;
using Microsoft.Extensions.DependencyInjection;
using ShopDiag.Diagnosis;
using ShopDiag.Estimates;
using ShopDiag.Web.Components.Pages;
using ShopDiag.Web.Prices;
using ShopDiag.Web.Saving;
using ShopDiag.Web.Tests.Support;

namespace ShopDiag.Web.Tests.Prices;

/// <summary>The page of prices and labour times on a real database.</summary>
public sealed class PricesPageTests : PageTest, IAsyncLifetime
{
    private static readonly PriceEntry Coil = new() { Kind = LineKind.Part, Name = "Ignition coil", For = "V6", PriceMinor = 6890, CoreMinor = 250, Vendor = "Slipway", Maker = "Quillmark", PartNumber = "QM-1" };
    private static readonly PriceEntry Labour = new() { Kind = LineKind.Labour, Name = "Ignition coil failed", Minutes = 25 };
    private TestShop _shop = null!;

    public async ValueTask InitializeAsync()
    {
        _shop = await TestShop.OpenAsync();
        await _shop.Prices.PutAsync([Coil, Labour]);
        Use(_shop);
    }

    async ValueTask IAsyncDisposable.DisposeAsync()
    {
        await base.DisposeAsync();
        await _shop.DisposeAsync();
    }

    [Fact]
    public void Each_entry_says_what_it_is_what_it_costs_and_where_it_is_from()
    {
        var rows = Rows(Open());
        Assert.Equal(["Part|Ignition coilfor V6|68.90 USD, core charge 2.50 USD|Slipway · Quillmark QM-1", "Labour|Ignition coil failed|25 minutes|"], rows);
    }

    [Theory]
    [InlineData("quillmark COIL", 1)]
    [InlineData("labour", 1)]
    [InlineData("coil", 2)]
    [InlineData("piston", 0)]
    public void A_filter_from_the_address_leaves_the_entries_with_these_words(string words, int left)
    {
        Services.GetRequiredService<NavigationManager>().NavigateTo($"/shop/prices?q={Uri.EscapeDataString(words)}");
        var page = Render<PricesPage>();
        page.WaitForElement("#price-count");
        Assert.Equal(left, Rows(page).Length);
        Assert.StartsWith(left switch { 0 => "No entry", 1 => "1 entry", _ => "2 entries" }, page.Find("#price-count").TextContent, StringComparison.Ordinal);
    }

    [Fact]
    public void A_new_entry_for_a_cause_begins_with_its_name_as_labour()
    {
        var title = Knowledge.Shipped.Cause("rings-worn")!.Title;
        Services.GetRequiredService<NavigationManager>().NavigateTo($"/shop/prices?q={Uri.EscapeDataString(title)}");
        var page = Render<PricesPage>();
        page.WaitForElement("#price-count");
        Press(page, "New entry");
        Assert.Equal((title, "labour"), (page.Find("#price-name").GetAttribute("value"), page.Find("#price-kind").GetAttribute("value")));
        Assert.NotNull(page.Find("#price-minutes"));
        Assert.Contains(page.FindAll("#price-names option"), o => o.GetAttribute("value") == title);
    }

    [Fact]
    public async Task What_is_typed_goes_on_the_list_by_its_button_and_undo_takes_it_off()
    {
        var page = Open();
        Press(page, "New entry");
        await TypeAsync(page, "price", "64,5");
        await TypeAsync(page, "name", "Spark plug");
        Press(page, "Put it on the list");
        page.WaitForAssertion(() => Assert.Contains("Not saved: The price:", page.Find("[role=alert]").TextContent, StringComparison.Ordinal));
        await TypeAsync(page, "price", "11.80");
        Press(page, "Put it on the list");
        page.WaitForAssertion(() => Assert.Empty(page.FindAll(".pr-form")));
        Assert.Equal(1180, (await _shop.Prices.GetAsync()).Find(LineKind.Part, "spark plug", "")!.PriceMinor);
        // Nothing of it stays behind on the tablet.
        Assert.Contains(JSInterop.Invocations["journal.forget"], i => (string?)i.Arguments[0] == "price:new:name");

        Press(page, "Undo: Spark plug");
        page.WaitForAssertion(() => Assert.Equal(2, Rows(page).Length));
        Assert.Null((await _shop.Prices.GetAsync()).Find(LineKind.Part, "Spark plug", ""));
    }

    [Fact]
    public async Task A_change_keeps_the_rest_of_the_entry_and_undo_brings_the_old_one_back()
    {
        var page = Open();
        Press(page, "Change Ignition coil (V6)");
        await TypeAsync(page, "for", "V8");
        Press(page, "Save the change");
        page.WaitForAssertion(() => Assert.Contains("Changed.", page.Markup, StringComparison.Ordinal));
        Assert.Equal([Coil with { For = "V8" }, Labour], (await _shop.Prices.GetAsync()).Entries);
        Press(page, "Undo: Ignition coil (V8)");
        page.WaitForAssertion(() => Assert.DoesNotContain("Changed.", page.Markup, StringComparison.Ordinal));
        Assert.Equal([Coil, Labour], (await _shop.Prices.GetAsync()).Entries);
    }

    [Fact]
    public async Task An_entry_taken_off_stays_in_its_place_until_it_is_put_back_or_something_else_is_changed()
    {
        var page = Open();
        Press(page, "Take off Ignition coil (V6)");
        page.WaitForAssertion(() => Assert.Contains("Taken off.", page.Markup, StringComparison.Ordinal));
        Assert.Equal([Labour], (await _shop.Prices.GetAsync()).Entries);
        Press(page, "Undo: Ignition coil (V6)");
        page.WaitForAssertion(() => Assert.DoesNotContain("Taken off.", page.Markup, StringComparison.Ordinal));
        Assert.Equal([Coil, Labour], (await _shop.Prices.GetAsync()).Entries);

        Press(page, "Take off Ignition coil (V6)");
        page.WaitForAssertion(() => Assert.Contains("Taken off.", page.Markup, StringComparison.Ordinal));
        Press(page, "Take off Ignition coil failed");
        page.WaitForAssertion(() => Assert.Equal(["Labour"], Rows(page).Select(r => r.Split('|')[0])));
        Assert.Empty((await _shop.Prices.GetAsync()).Entries);
    }

    [Fact]
    public async Task An_entry_that_is_there_already_is_not_covered_by_a_new_one()
    {
        var page = Open();
        Press(page, "New entry");
        await TypeAsync(page, "name", "ignition COIL");
        await TypeAsync(page, "for", "v6");
        await TypeAsync(page, "price", "1");
        Press(page, "Put it on the list");
        page.WaitForAssertion(() => Assert.Contains("on the list already", page.Find("[role=alert]").TextContent, StringComparison.Ordinal));
        Assert.Equal([Coil, Labour], (await _shop.Prices.GetAsync()).Entries);
    }

    [Fact]
    public async Task What_was_typed_for_another_kind_does_not_go_on_the_list_unseen()
    {
        var page = Open();
        Press(page, "New entry");
        await TypeAsync(page, "vendor", "Slipway");
        await TypeAsync(page, "kind", "fee");
        await TypeAsync(page, "name", "Disposal");
        await TypeAsync(page, "price", "4.50");
        await TypeAsync(page, "every-order", "yes");
        Press(page, "Put it on the list");
        page.WaitForAssertion(() => Assert.Empty(page.FindAll(".pr-form")));
        Assert.Equal(new PriceEntry { Kind = LineKind.Fee, Name = "Disposal", PriceMinor = 450, EveryOrder = true }, (await _shop.Prices.GetAsync()).Entries.Single(e => e.Kind == LineKind.Fee));
    }

    [Fact]
    public void What_was_begun_on_this_tablet_is_opened_again()
    {
        JSInterop.Setup<string[]?>("journal.drafts", "price:").SetResult([$"price:{Uri.EscapeDataString(Coil.Key)}:price", "price:new:name"]);
        var page = Open();
        page.WaitForAssertion(() => Assert.Equal(["New entry", "Change Ignition coil (V6)"], page.FindAll(".pr-form").Select(f => f.GetAttribute("aria-label"))));
    }

    [Fact]
    public async Task A_list_of_thousands_shows_as_many_as_a_tablet_can_take_and_says_so()
    {
        await _shop.Prices.PutAsync([.. Enumerable.Range(0, 3000).Select(i => new PriceEntry { Kind = LineKind.Fee, Name = $"Fee {i:D4}", PriceMinor = i })]);
        var page = Open();
        Assert.Equal((200, "The first 200 of 3002 entries; say more to see fewer"), (Rows(page).Length, page.Find("#price-count").TextContent));
    }

    [Fact]
    public void Every_name_that_is_proposed_is_one_that_the_estimate_looks_for()
    {
        Assert.Equal(Knowledge.Shipped.Causes.SelectMany(c => c.Repair.Parts).Select(p => p.Part).Distinct().Order(StringComparer.Ordinal), PriceWords.Names(LineKind.Part, Knowledge.Shipped));
        Assert.All(PriceWords.Names(LineKind.Labour, Knowledge.Shipped), n => Assert.Contains(Knowledge.Shipped.Causes, c => c.Title == n && !c.Unlisted));
    }

    private static string[] Rows(IRenderedComponent<PricesPage> page) =>
        [.. page.FindAll(".pr-row").Select(r => string.Join('|', r.Children.Take(4).Select(c => c.TextContent.Trim())))];

    private static void Press(IRenderedComponent<PricesPage> page, string name) =>
        page.Act(p => p.FindAll("button").Single(b => (b.GetAttribute("aria-label") ?? b.TextContent.Trim()) == name).Click());

    private static Task TypeAsync(IRenderedComponent<PricesPage> page, string column, string text) =>
        page.Find($"#price-{column}").TriggerEventAsync("onjournalled", new JournalledEventArgs { Value = text, Sequence = 1, Id = Guid.NewGuid() });

    private IRenderedComponent<PricesPage> Open()
    {
        var page = Render<PricesPage>();
        page.WaitForElement(".pr-row");
        return page;
    }
}
