using System.Globalization;
using AngleSharp.Dom;
using Bunit;
using Microsoft.AspNetCore.Components;
using Microsoft.Extensions.DependencyInjection;
using ShopDiag.Diagnosis.Engines;
using ShopDiag.Diagnosis.Workups;
using ShopDiag.Storage.Orders;
using ShopDiag.Web.Components.Pages;
using ShopDiag.Web.Saving;
using ShopDiag.Web.Tests.Support;

namespace ShopDiag.Web.Tests.Orders;

/// <summary>The order pages on a real database.</summary>
public sealed class OrderPagesTests : PageTest, IAsyncLifetime
{
    private TestShop _shop = null!;

    private NavigationManager Navigation => Services.GetRequiredService<NavigationManager>();

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
    public async Task The_list_says_for_each_order_what_where_who_and_for_what_it_waits()
    {
        var order = await _shop.NewOrderAsync(
            (OrderField.VehiclePlate, "QHV 1"), (OrderField.VehicleDescription, "Tamsin City"), (OrderField.VehicleYear, "2012"),
            (OrderField.ConcernText, "shakes at idle when cold and then it goes away"), (OrderField.Technician, "Lena"), (OrderField.PromisedAt, "2026-03-05T08:00:00Z"));
        var page = Render<OrdersPage>();
        var row = page.WaitForElement(".order-row");
        Assert.Equal($"/orders/{order.Number}", row.GetAttribute("href"));
        foreach (var words in new[] { "QHV 1", "2012 Tamsin City", "shakes at idle when cold and\u00A0…", "Written up", "waits for a technician", "Lena", "today 8:00 AM", "late" })
        {
            Assert.Contains(words, row.TextContent, StringComparison.Ordinal);
        }
    }

    [Fact]
    public async Task The_oldest_promise_comes_first_and_a_filter_leaves_one_stage()
    {
        var late = await _shop.NewOrderAsync((OrderField.PromisedAt, "2026-03-07T08:00:00Z"));
        var soon = await _shop.NewOrderAsync((OrderField.PromisedAt, "2026-03-06T08:00:00Z"));
        await _shop.Orders.MoveAsync(soon.Id, OrderStage.InDiagnosis, "Ann", "", Guid.NewGuid());
        var page = Render<OrdersPage>();
        page.WaitForAssertion(() => Assert.Equal([$"{soon.Number}", $"{late.Number}"], Numbers(page)));
        await page.InvokeAsync(() => page.Find("#stage").Change(nameof(OrderStage.WrittenUp)));
        Assert.EndsWith("?Stage=WrittenUp", Navigation.Uri, StringComparison.Ordinal);
        page.WaitForAssertion(() => Assert.Equal([$"{late.Number}"], Numbers(page)));
    }

    [Fact]
    public async Task The_list_follows_what_other_tablets_do()
    {
        var page = Render<OrdersPage>();
        page.WaitForElement("a[href='/orders/new']");
        var order = await _shop.NewOrderAsync((OrderField.VehiclePlate, "NEW 1"));
        page.WaitForAssertion(() => Assert.Contains("NEW 1", page.Find(".order-row").TextContent, StringComparison.Ordinal));
        await _shop.SetAsync(order.Id, OrderField.VehiclePlate, "NEW 2");
        page.WaitForAssertion(() => Assert.Contains("NEW 2", page.Find(".order-row").TextContent, StringComparison.Ordinal));
    }

    [Theory]
    [InlineData(OrderStage.WrittenUp, "concern")]
    [InlineData(OrderStage.InDiagnosis, "workup")]
    [InlineData(OrderStage.AwaitingApproval, "estimate")]
    [InlineData(OrderStage.AwaitingParts, "parts")]
    [InlineData(OrderStage.InRepair, "progress")]
    public async Task Only_the_part_in_hand_is_open(OrderStage stage, string part)
    {
        var order = await _shop.NewOrderAsync();
        await _shop.Orders.MoveAsync(order.Id, stage, "Ann", "only looked at here", Guid.NewGuid());
        var page = await OpenAsync(order.Number);
        Assert.Equal(["part-" + part], page.FindAll("h2[id^=part-]").Where(h => h.QuerySelector("[aria-expanded=true]") is not null).Select(h => h.Id));
    }

    [Fact]
    public async Task A_part_opened_by_hand_stands_in_the_address()
    {
        var order = await _shop.NewOrderAsync();
        var page = await OpenAsync(order.Number);
        await page.InvokeAsync(() => page.Find("#part-progress button").Click());
        Assert.EndsWith("?part=progress", Navigation.Uri, StringComparison.Ordinal);
        page.WaitForAssertion(() => Assert.Equal("true", page.Find("#part-progress button").GetAttribute("aria-expanded")));
    }

    [Fact]
    public async Task A_field_is_saved_and_shows_what_another_tablet_writes()
    {
        var order = await _shop.NewOrderAsync();
        var page = await OpenAsync(order.Number);
        await TypeAsync(page, p => Field(p, "Make and model"), "Tamsin City");
        _shop.Time.Advance(FieldSaving.Pause);
        page.WaitForAssertion(() => Assert.Equal("Tamsin City", Field(page, "Make and model").GetAttribute("data-saved")));
        await _shop.SetAsync(order.Id, OrderField.VehicleDescription, "Tamsin City 1.2");
        page.WaitForAssertion(() => Assert.Equal("Tamsin City 1.2", Field(page, "Make and model").GetAttribute("value")));
        Assert.Contains("Tamsin City 1.2", page.Find(".page-sub").TextContent, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Only_the_customers_own_data_is_sealed_in_the_browsers_storage_and_every_field_can_be_saved_without_its_page()
    {
        var page = await OpenAsync((await _shop.NewOrderAsync()).Number);
        Assert.Equal(["Name", "Telephone", "E-mail"], page.FindAll("[data-private]").Select(i => page.Find($"label[for={i.Id}]").TextContent));
        Assert.Equal(page.FindAll("[data-auto]").Count, page.FindAll("[data-saved][data-draft^='order:']").Count);
    }

    [Fact]
    public async Task An_order_made_by_mistake_is_closed_for_a_reason_and_opened_again_by_one_touch()
    {
        var order = await _shop.NewOrderAsync((OrderField.VehiclePlate, "QHV 1"));
        var page = await OpenAsync(order.Number, "progress");
        Assert.DoesNotContain("Invoice (PDF)", page.Markup, StringComparison.Ordinal);
        await PressAsync(page, "Close it as made by mistake");
        page.WaitForAssertion(() => Assert.Contains("Say in a few words", page.Find("[role=alert]").TextContent, StringComparison.Ordinal));
        await TypeAsync(page, p => p.Find("#mistake-reason"), "Written up twice.");
        await PressAsync(page, "Close it as made by mistake");
        page.WaitForAssertion(() => Assert.Contains("Written up twice.", page.Find("section[aria-labelledby=mistake]").TextContent, StringComparison.Ordinal));
        Assert.Empty(await _shop.Orders.OpenOrdersAsync());
        Assert.Contains(page.FindAll("button"), b => b.TextContent == "It was no mistake: open it again");
        await PressAsync(page, "Undo: open it again");
        page.WaitForAssertion(() => Assert.Empty(page.FindAll("section[aria-labelledby=mistake]")));
        Assert.Equal(OrderStage.WrittenUp, Assert.Single(await _shop.Orders.OpenOrdersAsync()).Stage);
    }

    [Fact]
    public async Task Parts_that_are_not_on_the_car_are_named_beside_the_step_and_a_reason_is_asked()
    {
        var order = await _shop.NewOrderAsync();
        await _shop.ApprovedPartAsync(order.Id, "Ignition coil", 2);
        await _shop.Orders.MoveAsync(order.Id, OrderStage.InRepair, "Ann", "They come at noon.", Guid.NewGuid());
        var page = await OpenAsync(order.Number);
        Assert.Contains("2 × Ignition coil", page.Find("#body-progress .note-wrong").TextContent, StringComparison.Ordinal);
        await PressAsync(page, "Repaired: check it");
        page.WaitForAssertion(() => Assert.Contains("Not moved:", page.Find("[role=alert]").TextContent, StringComparison.Ordinal));
        await TypeAsync(page, p => p.Find("#next-reason"), "The old ones were good.");
        await PressAsync(page, "Repaired: check it");
        page.WaitForAssertion(() => Assert.Contains("Repaired, being checked", page.Find(".page-sub").TextContent, StringComparison.Ordinal));
        Assert.Equal("The old ones were good.", (await _shop.Orders.GetAsync(order.Id))!.Moves[^1].Reason);
    }

    [Fact]
    public async Task A_year_with_a_digit_too_many_is_refused_whole_beside_its_field()
    {
        var order = await _shop.NewOrderAsync((OrderField.VehicleYear, "2014"));
        var page = await OpenAsync(order.Number);
        await TypeAsync(page, p => Field(p, "Model year"), "20166");
        _shop.Time.Advance(FieldSaving.Pause);
        page.WaitForAssertion(() => Assert.Contains("“20166” cannot be kept here", page.Find("[role=alert]").TextContent, StringComparison.Ordinal));
        Assert.Equal(("20166", "2014"), (Field(page, "Model year").GetAttribute("value"), Field(page, "Model year").GetAttribute("data-saved")));
    }

    [Fact]
    public async Task A_wrong_VIN_is_kept_and_warned_of()
    {
        var order = await _shop.NewOrderAsync((OrderField.VehicleVin, "123"));
        var page = await OpenAsync(order.Number);
        Assert.Contains("a VIN has 17", Field(page, "VIN").Closest(".field")!.TextContent, StringComparison.Ordinal);
    }

    [Fact]
    public async Task The_model_year_that_the_VIN_tells_is_offered_and_written_by_one_touch()
    {
        // The worked example of 49 CFR 565.15 pattern: 17 ones are their own check digit; the tenth character 1 is model year 2001 or 2031.
        var order = await _shop.NewOrderAsync((OrderField.VehicleVin, "11111111111111111"));
        var page = await OpenAsync(order.Number);
        await PressAsync(page, "Write 2001 as model year");
        await page.WaitForAssertionAsync(async () => Assert.Equal(2001, (await _shop.Orders.GetAsync(order.Id))!.Vehicle.Year));
        page.WaitForAssertion(() => Assert.DoesNotContain("as model year", page.Markup, StringComparison.Ordinal));
    }

    [Fact]
    public async Task A_car_that_was_here_before_is_offered_and_taken_with_its_customer()
    {
        var before = await _shop.NewOrderAsync((OrderField.VehiclePlate, "QHV 77"), (OrderField.CustomerName, "Harriet Blume"));
        await _shop.PutEngineAsync(before.Id, "i4-1342-coil-on-plug-port");
        var order = await _shop.NewOrderAsync((OrderField.VehiclePlate, "qhv77"));
        var page = await OpenAsync(order.Number);
        page.WaitForAssertion(() => Assert.Contains("been here before", page.Markup, StringComparison.Ordinal));
        await PressAsync(page, "Use it");
        page.WaitForAssertion(() => Assert.Equal("Harriet Blume", Field(page, "Name").GetAttribute("value")));
        Assert.Equal(before.Vehicle.Id, (await _shop.Orders.GetAsync(order.Id))!.Vehicle.Id);
        Assert.DoesNotContain("been here before", page.Markup, StringComparison.Ordinal);
    }

    [Fact]
    public async Task An_engine_is_found_by_words_and_put_on_the_car_with_its_companions_shown()
    {
        var order = await _shop.NewOrderAsync();
        var page = await OpenAsync(order.Number);
        await page.InvokeAsync(() => page.Find("#engine-search").Input("four 1-3-4-2 waste"));
        _shop.Time.Advance(TimeSpan.FromMilliseconds(200));
        page.WaitForAssertion(() => Assert.All(page.FindAll(".engine-row"), r => Assert.Contains("waste spark", r.TextContent, StringComparison.Ordinal)));
        await page.InvokeAsync(() => page.Find(".engine-row").Click());
        page.WaitForAssertion(() => Assert.Contains("Fires 1-3-4-2; companions 1 and 4, 2 and 3", page.Find(".engine-now").TextContent, StringComparison.Ordinal));
        Assert.Equal(Ignition.WasteSpark, (await _shop.Orders.GetAsync(order.Id))!.Vehicle.Engine!.Ignition);
    }

    [Fact]
    public async Task Access_minutes_of_two_banks_saved_within_a_breath_do_not_undo_each_other()
    {
        var order = await _shop.NewOrderAsync();
        await _shop.PutEngineAsync(order.Id, "v6-142536-waste-spark");
        var page = await OpenAsync(order.Number);
        await TypeAsync(page, p => Field(p, "Extra time to get at bank 1"), "40");
        await TypeAsync(page, p => Field(p, "Extra time to get at bank 2"), "55");
        _shop.Time.Advance(FieldSaving.Pause);
        await page.WaitForAssertionAsync(async () =>
        {
            var access = (await _shop.Orders.GetAsync(order.Id))!.Vehicle.Engine!.AccessMinutes;
            Assert.Equal((40.0, 55.0), (access.GetValueOrDefault(1), access.GetValueOrDefault(2)));
        });
    }

    [Fact]
    public async Task The_next_step_moves_the_order_and_a_step_back_asks_why()
    {
        var order = await _shop.NewOrderAsync();
        var page = await OpenAsync(order.Number, "progress");
        await PressAsync(page, "Start the diagnosis");
        page.WaitForAssertion(() => Assert.Contains("In diagnosis", page.Find(".page-sub").TextContent, StringComparison.Ordinal));
        await page.InvokeAsync(() => page.Find("#step-to").Change(nameof(OrderStage.WrittenUp)));
        await PressAsync(page, "Move it there");
        page.WaitForAssertion(() => Assert.Contains("A step back needs a reason", page.Find("[role=alert]").TextContent, StringComparison.Ordinal));
        await TypeAsync(page, p => p.Find("#step-reason"), "the customer wants to wait");
        await PressAsync(page, "Move it there");
        page.WaitForAssertion(() => Assert.Contains("the customer wants to wait", page.Find(".moves").TextContent, StringComparison.Ordinal));
        Assert.Equal(OrderStage.WrittenUp, (await _shop.Orders.GetAsync(order.Id))!.Stage);
    }

    [Fact]
    public async Task The_finding_shows_proof_parts_and_the_two_papers_and_says_when_it_is_not_proven()
    {
        var order = await _shop.NewOrderAsync();
        await _shop.PutEngineAsync(order.Id, "i4-1342-coil-on-plug-port");
        var at = Diagnosis.Place.Cylinder(4);
        var conclusion = new Conclusion([new("coil-failed", at)], [new("coil-swap", at, "follows", "The misfire moved with the coil.")],
            new Repair("Replace the ignition coil of cylinder 4.", [new("Ignition coil", 1, at, "Connector as the others", false)], 150, ["power-balance"]));
        await _shop.Orders.SetFindingAsync(order.Id, new OrderFinding { Conclusion = conclusion, Probability = 0.9, UnprovenReason = "no second coil at hand", At = _shop.Time.GetUtcNow().UtcDateTime, By = "Lena" }, Guid.NewGuid());
        var page = await OpenAsync(order.Number, "finding");
        var text = page.Find("#body-finding").TextContent;
        foreach (var words in new[] { "Ignition coil failed, cylinder 4", "no second coil at hand", "The misfire moved with the coil.", "2.5 hours", "Connector as the others", "by Lena" })
        {
            Assert.Contains(words, text, StringComparison.Ordinal);
        }

        Assert.Equal([$"/orders/{order.Number}/customer.pdf", $"/orders/{order.Number}/parts.pdf"], page.FindAll("a[href$='.pdf']").Select(a => a.GetAttribute("href")));
    }

    [Fact]
    public void An_order_that_does_not_exist_is_said_in_words() =>
        Assert.Contains("There is no order 4711", Render<OrderPage>(p => p.Add(c => c.Number, 4711)).WaitForElement("h1").TextContent, StringComparison.Ordinal);

    [Fact]
    public async Task Find_lists_what_it_found()
    {
        var order = await _shop.NewOrderAsync((OrderField.CustomerName, "Sofía Márquez"));
        Navigation.NavigateTo("/find?q=marquez");
        var page = Render<FindPage>();
        Assert.Equal([$"{order.Number}"], page.WaitForElements(".order-number").Select(n => n.TextContent.Replace("Order ", "", StringComparison.Ordinal)));
    }

    private static IEnumerable<string> Numbers(IRenderedComponent<OrdersPage> page) =>
        page.FindAll(".order-number").Select(n => n.TextContent.Replace("Order ", "", StringComparison.Ordinal));

    private static IElement Field(IRenderedComponent<OrderPage> page, string label) =>
        page.Find("#" + page.FindAll("label").First(l => l.TextContent == label).GetAttribute("for"));

    // Found and pressed in one go on the page's own thread: a change from the store may render the page anew at any moment.
    private static Task PressAsync(IRenderedComponent<OrderPage> page, string text) =>
        page.InvokeAsync(() => page.FindAll("button").Single(b => b.TextContent.Trim() == text).Click());

    private static Task TypeAsync(IRenderedComponent<OrderPage> page, Func<IRenderedComponent<OrderPage>, IElement> find, string text) => page.InvokeAsync(() =>
    {
        var input = find(page);
        return input.TriggerEventAsync("onjournalled", new JournalledEventArgs { Value = text, Base = input.GetAttribute("data-saved"), Sequence = 1, Id = Guid.NewGuid() });
    });

    private async Task<IRenderedComponent<OrderPage>> OpenAsync(int number, string? part = null)
    {
        Navigation.NavigateTo(string.Create(CultureInfo.InvariantCulture, $"/orders/{number}{(part is null ? "" : "?part=" + part)}"));
        var page = Render<OrderPage>(p => p.Add(c => c.Number, number));
        await page.WaitForElementAsync("h1");
        return page;
    }
}
