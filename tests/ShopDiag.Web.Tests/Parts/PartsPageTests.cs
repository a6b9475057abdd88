using Bunit;
using Microsoft.AspNetCore.Components;
using Microsoft.Extensions.DependencyInjection;
using ShopDiag.Estimates;
using ShopDiag.Storage.Estimates;
using ShopDiag.Storage.Orders;
using ShopDiag.Storage.People;
using ShopDiag.Web.Components.Pages;
using ShopDiag.Web.Parts;
using ShopDiag.Web.Saving;
using ShopDiag.Web.Tests.Support;

namespace ShopDiag.Web.Tests.Parts;

/// <summary>The list of parts wanted, and the parts on the page of an order, on a real database.</summary>
public sealed class PartsPageTests : PageTest, IAsyncLifetime
{
    private TestShop _shop = null!;
    private RepairOrder _order = null!;
    private PartOnOrder _plugs = null!;

    public async ValueTask InitializeAsync()
    {
        _shop = await TestShop.OpenAsync();
        Use(_shop);
        _order = await _shop.NewOrderAsync((OrderField.VehiclePlate, "QHV 1"), (OrderField.VehicleDescription, "Tamsin City"), (OrderField.PromisedAt, "2026-03-05T08:00:00Z"));
        _plugs = await _shop.ApprovedPartAsync(
            _order.Id, "Spark plug", 4, (LineField.Vendor, "Slipway"), (LineField.PartNumber, "QM-5518"), (LineField.Maker, "Quillmark"), (LineField.MustMatch, "Gap by the maker"), (LineField.Core, "2.50"));
    }

    async ValueTask IAsyncDisposable.DisposeAsync()
    {
        await base.DisposeAsync();
        await _shop.DisposeAsync();
    }

    [Fact]
    public async Task A_row_says_all_that_the_counter_asks_for()
    {
        await _shop.Parts.SetFieldAsync(_plugs.Id, PartField.ExpectedOn, "2026-03-04", null, Guid.NewGuid(), "Ann");
        var row = Open().Find(".pt-row").TextContent;
        foreach (var words in new[] { "4 × Spark plug", "wanted", "overdue", $"Order {_order.Number}", "QHV 1, Tamsin City", "promised today 8:00 AM", "late", "Must match: Gap by the maker", "Slipway", "Quillmark QM-5518", "expected yesterday", "core charge 2.50 USD each" })
        {
            Assert.Contains(words, row, StringComparison.Ordinal);
        }
    }

    [Fact]
    public async Task The_steps_go_on_and_each_is_on_record_with_who_made_it()
    {
        Acting.Current = ActingAs.Somebody("Ruth", PersonRole.Advisor);
        var page = Open();
        Press(page, "All 4 ordered: 4 × Spark plug");
        page.WaitForAssertion(() => Assert.Contains("4 × ordered.", page.Find(".pt-steps").TextContent, StringComparison.Ordinal));
        Breathe(page);
        Press(page, "All 4 received: 4 × Spark plug");
        page.WaitForAssertion(() => Assert.Equal("Received", page.Find(".pt-row").GetAttribute("data-state")));
        Assert.Equal([(PartState.Wanted, "Ann"), (PartState.Ordered, "Ruth"), (PartState.Received, "Ruth")], (await PartsAsync())[0].Moves.Select(m => (m.State, m.By)));
        // It stays in its place, and can be sorted in.
        Assert.NotNull(page.Find("section[aria-labelledby=missing] .pt-row"));
        page.Act(p => p.FindAll("button").Single(b => b.TextContent == "Sort again").Click());
        page.WaitForAssertion(() => Assert.NotNull(page.Find("section[aria-labelledby=ready] .pt-row")));
    }

    [Fact]
    public async Task A_second_touch_in_the_same_breath_takes_the_part_no_step_further()
    {
        var page = Open();
        Press(page, "All 4 ordered: 4 × Spark plug");
        page.WaitForAssertion(() => Assert.Equal("Ordered", page.Find(".pt-row").GetAttribute("data-state")));
        Press(page, "All 4 received: 4 × Spark plug");
        Assert.Equal(PartState.Ordered, Assert.Single(await PartsAsync()).State);
    }

    [Fact]
    public async Task Some_of_them_go_on_and_undo_makes_them_one_again()
    {
        var page = Open();
        Press(page, "Some of them: 4 × Spark plug");
        Press(page, "One more");
        Press(page, "One more");
        Press(page, "One more");
        Assert.Equal("3 of 4", page.Find("output").TextContent);
        page.Act(p => p.FindAll(".pt-panel button").Single(b => b.TextContent.Trim() == "3 ordered").Click());
        page.WaitForAssertion(() => Assert.Equal(["3 × Spark plug Ordered", "1 × Spark plug Wanted"], Rows(page)));
        Breathe(page);
        Press(page, "Undo: 3 × Spark plug");
        page.WaitForAssertion(() => Assert.Equal(["4 × Spark plug Wanted"], Rows(page)));
        Assert.Equal(4, Assert.Single(await PartsAsync()).Quantity);
        page.WaitForAssertion(() => Assert.DoesNotContain(page.FindAll("button"), b => b.TextContent == "Undo"));
    }

    [Fact]
    public async Task What_is_fitted_stays_until_the_page_is_sorted_so_that_it_can_be_undone()
    {
        await _shop.Parts.MoveAsync(_plugs.Id, PartState.Received, 4, Guid.NewGuid(), "Ann");
        var page = Open();
        Press(page, "All 4 fitted: 4 × Spark plug");
        page.WaitForAssertion(() => Assert.Equal(["4 × Spark plug Fitted"], Rows(page)));
        Breathe(page);
        Press(page, "Undo: 4 × Spark plug");
        page.WaitForAssertion(() => Assert.Equal(["4 × Spark plug Received"], Rows(page)));
    }

    [Fact]
    public async Task A_step_on_another_tablet_is_seen_at_once_and_one_that_comes_too_late_is_told()
    {
        var page = Open();
        await _shop.Parts.MoveAsync(_plugs.Id, PartState.Ordered, 4, Guid.NewGuid(), "Sam");
        page.WaitForAssertion(() => Assert.Equal(["4 × Spark plug Ordered"], Rows(page)));
        var result = await Services.GetRequiredService<PartSteps>().MoveAsync(_plugs, PartState.Fitted, 4);
        Assert.Equal((SaveOutcome.Conflict, null), (result.Result.Outcome, result.Step));
    }

    [Fact]
    public async Task By_order_the_car_stands_once_above_its_parts()
    {
        await _shop.ApprovedPartAsync(_order.Id, "Ignition coil");
        Services.GetRequiredService<NavigationManager>().NavigateTo("/parts?by=order");
        var page = Open();
        Assert.Equal([$"Order {_order.Number} 5 parts"], page.FindAll(".pt-group h3").Select(h => string.Join(' ', h.TextContent.Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries))));
        Assert.Single(page.FindAll($"a[href='/orders/{_order.Number}?part=parts']"));
        Services.GetRequiredService<NavigationManager>().NavigateTo("/parts");
        page.WaitForAssertion(() => Assert.Equal(["No vendor yet", "Slipway"], page.FindAll(".pt-group").Select(g => g.GetAttribute("aria-label"))));
    }

    [Fact]
    public async Task A_handed_over_car_waits_for_nothing()
    {
        await _shop.Orders.MoveAsync(_order.Id, OrderStage.HandedOver, "Ann", "the customer took it away", Guid.NewGuid());
        var page = Render<PartsPage>();
        page.WaitForAssertion(() => Assert.Contains("Nothing is missing", page.Markup, StringComparison.Ordinal));
    }

    [Fact]
    public async Task The_fields_of_a_part_save_themselves_with_and_without_their_page()
    {
        var page = Open();
        Press(page, "Details: 4 × Spark plug");
        Assert.Equal("vendors", page.Find($"[data-draft='part:{_plugs.Id}:Vendor']").GetAttribute("list"));
        await page.Find($"[data-draft='part:{_plugs.Id}:ExpectedOn']").TriggerEventAsync("onjournalled", new JournalledEventArgs { Value = "2026-03-06", Base = "", Sequence = 1, Id = Guid.NewGuid() });
        _shop.Time.Advance(FieldSaving.Pause);
        page.WaitForAssertion(() => Assert.Contains("expected tomorrow", page.Find(".pt-from").TextContent, StringComparison.Ordinal));

        var drafts = new DraftReplay([new PartDrafts(_shop.Parts, Services.GetRequiredService<Tablet>())]);
        var draft = new StrayDraft(PartDrafts.Key(_plugs.Id, PartField.Vendor), "Northgate", "Slipway", Guid.NewGuid(), 1);
        Assert.Equal([draft.Key], await drafts.SaveAsync([draft, draft with { Key = "part:nonsense:Vendor" }, draft with { Key = $"part:{_plugs.Id}:Colour" }]));
        Assert.Equal("Northgate", (await PartsAsync())[0].Vendor);
    }

    [Fact]
    public async Task A_step_that_the_journal_hands_back_is_made_once()
    {
        var (id, payload) = (Guid.NewGuid(), $$"""{"part":"{{_plugs.Id}}","from":"Wanted","to":"Ordered","quantity":1,"by":"Ruth"}""");
        var commands = Services.GetRequiredService<CommandJournal>();
        await commands.ReplayAsync([new(id, PartServices.Move, payload, null)]);
        await commands.ReplayAsync([new(id, PartServices.Move, payload, null)]);
        Assert.Empty(commands.Refused);
        Assert.Equal([(PartState.Ordered, 1), (PartState.Wanted, 3)], (await PartsAsync()).Select(p => (p.State, p.Quantity)));
    }

    [Fact]
    public async Task The_order_says_where_its_parts_are_and_that_the_old_one_went_back()
    {
        await _shop.Parts.MoveAsync(_plugs.Id, PartState.Received, 1, Guid.NewGuid(), "Ann");
        Services.GetRequiredService<NavigationManager>().NavigateTo($"/orders/{_order.Number}?part=parts");
        var page = Render<OrderPage>(p => p.Add(x => x.Number, _order.Number));
        page.WaitForAssertion(() => Assert.Contains("4 parts: 1 here, 3 wanted", page.Find("#part-parts").TextContent, StringComparison.Ordinal));
        page.Act(p => p.Find("[aria-pressed]").Click());
        page.WaitForAssertion(() => Assert.Contains("The core charge comes back.", page.Find("#body-parts").TextContent, StringComparison.Ordinal));
        Assert.Equal([true, false], (await PartsAsync()).Select(p => p.CoreBack));
    }

    private static void Press(IRenderedComponent<PartsPage> page, string label) => page.Act(p => p.FindAll("button").Single(b => b.GetAttribute("aria-label")?.StartsWith(label, StringComparison.Ordinal) == true).Click());

    private static string[] Rows(IRenderedComponent<PartsPage> page) => [.. page.FindAll(".pt-row").Select(r => $"{r.QuerySelector(".pt-title strong")!.TextContent} {r.GetAttribute("data-state")}")];

    // The row rests after a step: the time goes on until it does not any more.
    private void Breathe(IRenderedComponent<PartsPage> page) => page.WaitForAssertion(() =>
    {
        _shop.Time.Advance(TimeSpan.FromSeconds(1));
        Assert.Empty(page.FindAll(".pt-steps [aria-disabled=true]"));
    });

    private async Task<PartOnOrder[]> PartsAsync() => [.. (await _shop.Orders.GetAsync(_order.Id))!.Parts];

    private IRenderedComponent<PartsPage> Open()
    {
        var page = Render<PartsPage>();
        page.WaitForElement(".pt-row");
        return page;
    }
}
