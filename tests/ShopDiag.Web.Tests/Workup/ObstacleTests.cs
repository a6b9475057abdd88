using System.Collections.Immutable;
using Bunit;
using ShopDiag.Diagnosis;
using ShopDiag.Diagnosis.BenchTests;
using ShopDiag.Diagnosis.Workups;
using ShopDiag.Storage.Orders;
using ShopDiag.Storage.Shop;
using ShopDiag.Web.Components.WorkupViews;
using ShopDiag.Web.Saving;

namespace ShopDiag.Web.Tests.WorkupViews;

/// <summary>Tests that cannot be taken: what the sheet, the next step and the end of the plan say of them.</summary>
public sealed class ObstacleTests : BunitContext
{
    private static readonly Place Fourth = Place.Cylinder(4);

    public ObstacleTests() => JSInterop.Mode = JSRuntimeMode.Loose;

    [Fact]
    public void A_cell_says_in_words_and_with_a_sign_of_its_own_that_it_is_not_possible()
    {
        var page = Render<CylinderSheet>(p => p.Add(s => s.Sheet, Sheet(Said("leak-down", Fourth))));
        var cell = page.Find("[data-cell='leak-down:c4']");
        Assert.Equal("Leak-down, cylinder 4: not possible", cell.TextContent.Trim());
        Assert.False(cell.HasAttribute("aria-label"));
        Assert.Equal("barred", cell.QuerySelector(".wk-pattern")!.GetAttribute("data-pattern"));
        Assert.Equal("Leak-down, cylinder 2: no reading", page.Find("[data-cell='leak-down:c2']").GetAttribute("aria-label"));
    }

    [Fact]
    public void For_the_whole_car_every_cell_of_the_test_says_so_and_no_other_does()
    {
        var sheet = Sheet(Said("leak-down", Place.Engine));
        Assert.Equal(["leak-down:Cylinder"], sheet.Rows.Where(r => r.Cells.Any(c => c.NotPossible)).Select(r => r.Key));
        Assert.All(sheet.Rows.Single(r => r.Key == "leak-down:Cylinder").Cells, c => Assert.Equal((ObstacleView.Word, false), (c.Mark.Word, c.IsFilled)));
    }

    [Fact]
    public void What_has_ended_is_gone_from_the_sheet_and_what_was_read_before_stays_on_it()
    {
        var ended = Said("leak-down", Fourth) with { EndedBy = "Lena", EndedAt = ABench.Noon.UtcDateTime };
        Assert.DoesNotContain(Sheet(ended).Rows.SelectMany(r => r.Cells), c => c.NotPossible);

        var order = ABench.Order(ABench.Compression(4, 620)) with { Obstacles = [Said("compression-dry", Fourth)] };
        var assessment = ABench.Assessment(ABench.Finding("compression-dry", Fourth, "low", measure: 620));
        var sheet = SheetViews.Of(order, ABench.V6, assessment, Knowledge.Shipped, ABench.Us, Stage.Before);
        var cell = Render<CylinderSheet>(p => p.Add(s => s.Sheet, sheet)).Find("[data-cell='compression-dry:c4']");
        Assert.Contains("low", cell.TextContent, StringComparison.Ordinal);
        Assert.EndsWith("no longer possible", cell.TextContent.Trim(), StringComparison.Ordinal);
    }

    [Fact]
    public void An_open_cell_says_who_said_so_when_and_why_and_offers_the_way_back()
    {
        Guid? ended = null;
        var (here, everywhere) = (Said("leak-down", Fourth, "no adapter fits"), Said("leak-down", Place.Engine));
        var order = ABench.Order(Array.Empty<Reading>()) with { Obstacles = [here, everywhere] };
        var views = ObstacleView.Of(order, ABench.Test("leak-down"), Fourth, ABench.Clock);
        Assert.Equal([("Not possible at cylinder 4", "no adapter fits"), ("Not possible on this car", "")], views.Select(v => (v.Words, v.Why)));
        Assert.All(views, v => Assert.EndsWith(", Rosa", v.Circumstances, StringComparison.Ordinal));
        Assert.Equal([everywhere.Id], ObstacleView.Of(order, ABench.Test("leak-down"), Place.Cylinder(1), ABench.Clock).Select(v => v.Id));
        Assert.Empty(ObstacleView.Of(order, ABench.Test("compression-dry"), Fourth, ABench.Clock));

        var page = Render<NotPossible>(p => p.Add(n => n.Said, views).Add(n => n.OnEnd, (Guid id) => ended = id));
        page.FindAll("button")[1].Click();
        Assert.Equal(everywhere.Id, ended);
    }

    [Theory]
    [InlineData("spark-output", 4, false, "At cylinder 4|Nowhere on this car")]
    [InlineData("fuel-pressure", 0, false, "")]
    [InlineData("power-balance", 1, true, "")]
    public void The_next_step_asks_where_only_if_it_can_be_one_place(string test, int cylinder, bool round, string places)
    {
        var said = new List<(StepView Step, ObstacleSaid Said)>();
        var step = new StepViews(ABench.V6, Knowledge.Shipped).Of(new NextStepAdvice
        {
            Test = test, At = cylinder == 0 || round ? Place.Engine : Place.Cylinder(cylinder), Minutes = 5, Because = "It decides.", Cautions = [],
        });
        Assert.Equal(round, step.Round);
        var card = Render<NextStepCard>(p => p.Add(c => c.Step, step).Add(c => c.OnSay, ((StepView, ObstacleSaid) s) => said.Add(s)));
        var button = card.Find(".wk-cannot");
        Assert.Equal("false", button.GetAttribute("aria-expanded"));
        button.Click();
        Assert.Equal("true", card.Find(".wk-cannot").GetAttribute("aria-expanded"));
        Assert.Equal(card.Find("form").Id, card.Find(".wk-cannot").GetAttribute("aria-controls"));
        Assert.Equal(places, string.Join('|', card.FindAll(".chip").Select(c => c.TextContent.Trim())));
        card.Find("input[type=text]").TriggerEvent("onjournalled", new JournalledEventArgs { Value = " no room " });
        card.Find("form").Submit();
        var (of, what) = Assert.Single(said);
        Assert.Equal((step, places.Length > 0 ? Fourth : Place.Engine, "no room"), (of, what.At, what.Why));
        Assert.All(card.FindAll("[data-draft]"), e => Assert.Contains(e.GetAttribute("data-draft"), what.Drafts));

        // The form belongs to one step: the next begins without it.
        card.Render(p => p.Add(c => c.Step, step with { Key = "another" }));
        Assert.Empty(card.FindAll("form"));
    }

    [Fact]
    public void A_cylinder_touched_on_the_plan_names_what_is_not_possible_there()
    {
        var order = ABench.Order(Array.Empty<Reading>()) with { Obstacles = [Said("leak-down", Fourth), Said("compression-dry", Place.Engine), Said("fuel-pressure", Place.Engine)] };
        var view = WorkupView.Of(order, ABench.V6, ABench.Assessment(), Knowledge.Shipped, new ShopSettings(), ABench.Clock);
        Assert.Equal(["Compression, dry", "Leak-down"], CylinderView.Of(4, view, Knowledge.Shipped).NotPossible);
        var panel = Render<CylinderPanel>(p => p.Add(c => c.View, CylinderView.Of(1, view, Knowledge.Shipped)));
        Assert.Contains("Not possible here: Compression, dry.", panel.Markup, StringComparison.Ordinal);
    }

    [Fact]
    public void A_repair_and_a_step_that_nobody_listens_for_offer_nothing_of_the_kind()
    {
        var step = new StepViews(ABench.V6, Knowledge.Shipped).OfAny(ABench.Test("leak-down"), Stage.Before);
        Assert.Empty(Render<NextStepCard>(p => p.Add(c => c.Step, step)).FindAll(".wk-cannot"));
        Assert.Empty(Render<NextStepCard>(p => p.Add(c => c.Step, step with { Start = null }).Add(c => c.OnSay, ((StepView, ObstacleSaid) _) => { })).FindAll(".wk-cannot"));
    }

    [Fact]
    public void Where_nothing_is_left_the_words_name_what_is_left_out()
    {
        Assert.DoesNotContain("Left out", Done([], ["*"]), StringComparison.Ordinal);
        Assert.EndsWith("Left out, as they cannot be taken: Compression, dry; Leak-down, cylinder 4.", Done([Said("leak-down", Fourth), Said("compression-dry", Place.Engine)], ["*"]), StringComparison.Ordinal);
        // In the order of the tests and the cylinders; what is possible nowhere is not said of a cylinder too.
        Assert.EndsWith(
            "Left out, as they cannot be taken: Compression, dry; Leak-down, cylinder 1; Leak-down, cylinder 4.",
            Done([Said("leak-down", Fourth), Said("compression-dry", Fourth), Said("leak-down", Place.Cylinder(1)), Said("compression-dry", Place.Engine)], ["*"]), StringComparison.Ordinal);
        Assert.Matches("Left out: [0-9]+ tests whose tools the shop does not have\\.$", Done([], ["scan-tool"]));
        Assert.Matches("Left out, as they cannot be taken: Leak-down; and [0-9]+ tests whose tools the shop does not have\\.$", Done([Said("leak-down", Place.Engine)], ["scan-tool"]));
        // A repair that is being checked misses no tool, but a test that the car does not allow any more.
        Assert.EndsWith("Left out, as they cannot be taken: Leak-down.", Done([Said("leak-down", Place.Engine)], ["scan-tool"], ABench.Compression(1, 1100) with { Stage = Stage.After }), StringComparison.Ordinal);
        // Said of an engine with more cylinders, or of a test of old: it keeps nothing from being taken.
        Assert.DoesNotContain("Left out", Done([Said("leak-down", Place.Cylinder(8)), Said("a-test-of-old", Place.Engine)], ["*"]), StringComparison.Ordinal);
    }

    private static string Done(ImmutableArray<StoredObstacle> obstacles, ImmutableArray<string> tools, params Reading[] readings) => WorkupView.Of(
        ABench.Order(readings) with { Obstacles = obstacles }, ABench.V6, ABench.Assessment(), Knowledge.Shipped, new ShopSettings { Tools = tools }, ABench.Clock).Done;

    private static SheetView Sheet(params StoredObstacle[] obstacles) => SheetViews.Of(
        ABench.Order(Array.Empty<Reading>()) with { Obstacles = [.. obstacles] }, ABench.V6, ABench.Assessment(), Knowledge.Shipped, ABench.Us, Stage.Before);

    private static StoredObstacle Said(string test, Place at, string why = "") => new()
    {
        Id = Guid.NewGuid(), Obstacle = new Obstacle(test, at) { Why = why }, By = "Rosa", SaidAt = ABench.Noon.UtcDateTime,
    };
}
