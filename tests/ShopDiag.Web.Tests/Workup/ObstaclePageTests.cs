using Bunit;
using Microsoft.Extensions.DependencyInjection;
using ShopDiag.Diagnosis;
using ShopDiag.Diagnosis.Workups;
using ShopDiag.Storage.Orders;
using ShopDiag.Storage.Shop;
using ShopDiag.Web.Components.Pages;
using ShopDiag.Web.Components.WorkupViews;
using ShopDiag.Web.Saving;
using ShopDiag.Web.Tests.Support;

namespace ShopDiag.Web.Tests.WorkupViews;

/// <summary>The page over a real database: what cannot be taken is said, planned around, undone, and ended by a reading.</summary>
public sealed class ObstaclePageTests() : OrderPageTest(new ShopSettings { Name = "Test shop", UnitSystem = "us" })
{
    [Fact]
    public async Task Said_of_the_next_step_another_comes_and_undo_brings_it_back()
    {
        var page = Open();
        var (first, test) = (Next(page), (await StartsAsync(page)).Test);
        page.Act(p => p.Find("#wk-do-top ~ .wk-next .wk-cannot").Click());
        page.Act(p => p.Find("[data-obstacle-form] input[type=text]").TriggerEvent("onjournalled", new JournalledEventArgs { Value = "no port" }));
        page.Act(p => p.Find("[data-obstacle-form]").Submit());
        page.WaitForAssertion(() => Assert.NotEqual(first, Next(page)), TimeSpan.FromSeconds(10));
        Assert.Contains("not possible", page.Find(".wk-saved").TextContent, StringComparison.Ordinal);
        var kept = Assert.Single((await Orders.GetAsync(Order))!.Obstacles);
        Assert.Equal((test, "no port", true), (kept.Obstacle.Test, kept.Obstacle.Why, kept.Stands));
        Assert.Equal(OrderStage.WrittenUp, (await Orders.GetAsync(Order))!.Stage);

        page.Act(p => Button(p, "Undo").Click());
        page.WaitForAssertion(() => Assert.Equal(first, Next(page)), TimeSpan.FromSeconds(10));
        Assert.Contains("can be taken after all", page.Find(".wk-saved").TextContent, StringComparison.Ordinal);
        Assert.False((await Orders.GetAsync(Order))!.Obstacles.Single().Stands);
        // Whoever takes it back wants to take the test: the form is closed.
        Assert.Empty(page.FindAll("[data-obstacle-form]"));
    }

    [Fact]
    public async Task It_is_with_the_journal_before_the_database_has_it_and_its_drafts_are_forgotten_then()
    {
        var module = JSInterop.SetupModule("./Components/Workup/WorkupBody.razor.js");
        module.Mode = JSRuntimeMode.Loose;
        var page = Open();
        SayInCell(page, "leak-down:c4", "no adapter");
        page.WaitForAssertion(() => Assert.Contains(JSInterop.Invocations, i => i.Identifier == "journal.done"));
        var command = JSInterop.Invocations.Single(i => i.Identifier == "journal.command");
        Assert.Equal(SaveObstacle.Kind, command.Arguments[0]);
        Assert.Contains(module.Invocations, i => i.Identifier == "forget" && i.Arguments[0] is string[] keys && keys.All(k => k.Contains("obstacle:cell:leak-down:c4", StringComparison.Ordinal)));
        // The same command again, as after a killed server, adds nothing; nor does one that another version wrote do harm.
        var handler = Services.GetServices<ICommandHandler>().Single(h => h.Kind == SaveObstacle.Kind);
        Assert.Equal(SaveOutcome.AlreadySaved, (await handler.HandleAsync((Guid)command.Arguments[1]!, (string)command.Arguments[2]!)).Outcome);
        Assert.Equal(SaveOutcome.Refused, (await handler.HandleAsync(Guid.NewGuid(), ((string)command.Arguments[2]!).Replace("c4", "x9", StringComparison.Ordinal))).Outcome);
        Assert.Single((await Orders.GetAsync(Order))!.Obstacles);
    }

    [Fact]
    public async Task Said_in_a_cell_the_round_goes_on_and_passes_it_over_until_a_reading_ends_it()
    {
        var page = Open();
        SayInCell(page, "compression-dry:c1", "thread stripped");
        page.WaitForAssertion(() => Assert.Equal("3", page.Find(".wk-place-key[aria-current=step]").FirstChild!.TextContent.Trim()));
        page.WaitForAssertion(() => Assert.Contains("not possible", page.Find("[data-cell='compression-dry:c1']").TextContent, StringComparison.Ordinal));
        Assert.Equal("1, not possible", Words(page.Find(".wk-place-key[data-barred]").TextContent));
        Assert.Empty((await Orders.GetAsync(Order))!.Readings);

        page.Act(p => p.PressCell("compression-dry:c1"));
        Assert.Equal("Not possible at cylinder 1: thread stripped", Words(page.WaitForElement(".wk-not-possible p").TextContent).Split(" today")[0]);
        Assert.Empty(page.FindAll(".wk-entry .wk-cannot"));
        page.Act(p => p.Find("[data-field='wk-field-0']").FocusIn());
        page.Act(p => p.Find("#wk-field-0").TriggerEvent("onjournalled", new JournalledEventArgs { Value = "160" }));
        page.Act(p => p.Find("[data-entry-form]").Submit());
        page.WaitForAssertion(() => Assert.Contains("160", page.Find("[data-cell='compression-dry:c1']").TextContent, StringComparison.Ordinal));
        page.WaitForAssertion(() => Assert.Contains("no longer holds", page.Find(".wk-saved").TextContent, StringComparison.Ordinal));
        Assert.False((await Orders.GetAsync(Order))!.Obstacles.Single().Stands);
    }

    [Fact]
    public async Task A_further_round_passes_it_over_and_the_last_cell_of_a_round_gives_the_cursor_back()
    {
        var module = JSInterop.SetupModule("./Components/Workup/WorkupBody.razor.js");
        module.Mode = JSRuntimeMode.Loose;
        foreach (var cylinder in new[] { 1, 3, 4 })
        {
            await Orders.AddReadingAsync(Order, new() { Id = Guid.NewGuid(), Reading = ABench.Compression(cylinder, 1100) });
        }

        await Orders.AddObstacleAsync(Order, new(Guid.NewGuid(), new Obstacle("compression-dry", Place.Cylinder(2)), "Marco"));
        await Orders.AddObstacleAsync(Order, new(Guid.NewGuid(), new Obstacle("compression-dry", Place.Cylinder(5)), "Marco"));
        var page = Open();
        SayInCell(page, "compression-dry:c6", "");
        page.WaitForAssertion(() => Assert.Contains("not possible", page.Find("[data-cell='compression-dry:c6']").TextContent, StringComparison.Ordinal));
        page.WaitForAssertion(() => Assert.Empty(page.FindAll(".wk-entry")));
        page.WaitForAssertion(() => Assert.Equal("compression-dry:c6", module.Invocations["focusCell"].Single().Arguments[0]));

        page.Act(p => p.PressCell("compression-dry:c1"));
        page.WaitForAssertion(() => Assert.Contains(page.FindAll(".wk-entry button"), b => b.TextContent.Trim() == "Enter, then 3"));
    }

    [Fact]
    public async Task The_form_of_a_cell_is_closed_when_it_can_be_taken_after_all()
    {
        var page = Open();
        SayInCell(page, "leak-down:c4", "no adapter");
        page.WaitForAssertion(() => Assert.Contains("not possible", page.Find("[data-cell='leak-down:c4']").TextContent, StringComparison.Ordinal));
        page.Act(p => p.FindAll(".wk-place-key").First(k => k.TextContent.Contains("not possible", StringComparison.Ordinal)).Click());
        page.WaitForElement(".wk-not-possible");
        page.Act(p => Button(p, "It can be taken after all").Click());
        page.WaitForElement(".wk-entry .wk-cannot");
        Assert.Empty(page.FindAll("#wk-entry-obstacle"));
        Assert.False((await Orders.GetAsync(Order))!.Obstacles.Single().Stands);
    }

    [Fact]
    public async Task The_open_cell_takes_it_back_and_what_another_tablet_says_appears_by_itself()
    {
        var page = Open();
        page.Act(p => p.PressCell("leak-down:c4"));
        page.WaitForElement(".wk-entry .wk-cannot");
        await Orders.AddObstacleAsync(Order, new(Guid.NewGuid(), new Obstacle("leak-down", Place.Engine) { Why = "no port" }, "Marco"));
        page.WaitForAssertion(() => Assert.Contains("Not possible on this car: no port", Words(page.Find(".wk-not-possible p").TextContent), StringComparison.Ordinal), TimeSpan.FromSeconds(5));
        page.Act(p => Button(p, "It can be taken after all").Click());
        page.WaitForAssertion(() => Assert.Empty(page.FindAll(".wk-not-possible")));
        page.WaitForAssertion(() => Assert.DoesNotContain("not possible", page.Find("[data-sheet]").TextContent, StringComparison.Ordinal));
    }

    private static string Next(IRenderedComponent<WorkupPage> page) => page.Find("#wk-next-title").TextContent + page.Find("#wk-next-title").ParentElement!.QuerySelector(".wk-where")?.TextContent;

    private async Task<CellKey> StartsAsync(IRenderedComponent<WorkupPage> page)
    {
        var order = (await Orders.GetAsync(Order))!;
        var title = page.Find("#wk-next-title").TextContent;
        var next = Diagnostician.Assess(order.ToWorkup(new ShopSettings { Name = "Test shop", UnitSystem = "us" }.ToSetup())!, Knowledge.Shipped).Next[0];
        Assert.Equal(Knowledge.Shipped.Test(next.Test!)!.Title, title);
        return new CellKey(next.Test!, next.At);
    }

    private static void SayInCell(IRenderedComponent<WorkupPage> page, string cell, string why)
    {
        page.Act(p => p.PressCell(cell));
        page.WaitForElement(".wk-entry .wk-cannot");
        page.Act(p => p.Find(".wk-entry .wk-cannot").Click());
        page.Act(p => p.Find("#wk-entry-obstacle input[type=text]").TriggerEvent("onjournalled", new JournalledEventArgs { Value = why }));
        page.Act(p => p.Find("#wk-entry-obstacle").Submit());
    }

    private IRenderedComponent<WorkupPage> Open()
    {
        var page = Render<WorkupPage>(p => p.Add(w => w.Number, Number));
        page.WaitForElement("[data-sheet]", TimeSpan.FromSeconds(10));
        return page;
    }

    private static string Words(string text) => string.Join(" ", text.Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries)).Replace(" ,", ",", StringComparison.Ordinal);

    private static AngleSharp.Dom.IElement Button(IRenderedComponent<WorkupPage> page, string text) => page.FindAll("button").First(b => b.TextContent.Trim() == text);
}
