using System.Collections.Immutable;
using Bunit;
using Microsoft.AspNetCore.Components;
using ShopDiag.Diagnosis;
using ShopDiag.Diagnosis.BenchTests;
using ShopDiag.Diagnosis.Workups;
using ShopDiag.Web.Components.WorkupViews;
using ShopDiag.Web.Saving;

namespace ShopDiag.Web.Tests.WorkupViews;

public sealed class ComponentTests : BunitContext
{
    public ComponentTests() => JSInterop.Mode = JSRuntimeMode.Loose;

    [Fact]
    public void A_touch_on_a_cell_opens_it_and_the_cell_says_test_place_figure_and_word()
    {
        CellKey? opened = null;
        var order = ABench.Order(ABench.Compression(4, 620));
        var sheet = SheetViews.Of(order, ABench.V6, ABench.Assessment(ABench.Finding("compression-dry", Place.Cylinder(4), "low", measure: 620)), Knowledge.Shipped, ABench.Us, Stage.Before);
        var page = Render<CylinderSheet>(p => p.Add(s => s.Sheet, sheet).Add(s => s.OnCell, (CellKey c) => opened = c));
        var cell = page.Find("[data-cell='compression-dry:c4']");
        Assert.Equal("Compression, dry, cylinder 4: 90 psi, low", Words(cell.TextContent));
        Assert.False(cell.HasAttribute("aria-label"));
        Assert.Equal("hatch", cell.QuerySelector(".wk-pattern")!.GetAttribute("data-pattern"));
        Assert.Equal("Compression, dry, cylinder 2: no reading", page.Find("[data-cell='compression-dry:c2']").GetAttribute("aria-label"));
        page.PressCell("compression-dry:c4");
        Assert.Equal(new CellKey("compression-dry", Place.Cylinder(4)), opened);
    }

    [Fact]
    public void The_sheet_is_a_table_with_its_banks_and_cylinders_as_headings()
    {
        var sheet = SheetViews.Of(ABench.Order(Array.Empty<Reading>()), ABench.V6, ABench.Assessment(), Knowledge.Shipped, ABench.Us, Stage.Before);
        var page = Render<CylinderSheet>(p => p.Add(s => s.Sheet, sheet));
        Assert.Equal(["Bank 1", "Bank 2"], page.FindAll("th[scope=colgroup]").Select(h => h.TextContent));
        Assert.Equal(["1", "3", "5", "2", "4", "6"], page.FindAll(".wk-cylinder").Select(h => h.TextContent.Replace("Cylinder ", "", StringComparison.Ordinal)));
    }

    [Fact]
    public void A_row_that_looks_the_same_is_not_drawn_again()
    {
        SheetRow Row() => SheetViews.Of(ABench.Order(ABench.Compression(4, 620)), ABench.V6, ABench.Assessment(), Knowledge.Shipped, ABench.Us, Stage.Before).Rows.First(r => r.Key == "compression-dry:Cylinder");
        var row = Render<SheetRowView>(p => p.Add(r => r.Row, Row()).Add(r => r.Columns, 6));
        row.Render(p => p.Add(r => r.Row, Row()));
        Assert.Equal(1, row.RenderCount);
        row.Render(p => p.Add(r => r.Selected, new CellKey("compression-dry", Place.Cylinder(4))));
        Assert.Equal(2, row.RenderCount);
    }

    [Fact]
    public void What_has_just_changed_is_marked_in_its_cell_only()
    {
        var key = new CellKey("compression-dry", Place.Cylinder(4));
        var sheet = SheetViews.Of(ABench.Order(ABench.Compression(4, 620)), ABench.V6, ABench.Assessment(), Knowledge.Shipped, ABench.Us, Stage.Before);
        var page = Render<CylinderSheet>(p => p.Add(s => s.Sheet, sheet).Add(s => s.Fresh, ImmutableHashSet.Create(key)).Add(s => s.Version, 2));
        Assert.Equal(key.Text, page.Find(".wk-fresh").ParentElement!.GetAttribute("data-cell"));
        Assert.Single(page.FindAll(".wk-fresh"));
    }

    [Fact]
    public void The_next_step_shows_its_cautions_without_being_touched()
    {
        StepView? started = null;
        var step = new StepViews(ABench.V6, Knowledge.Shipped).Of(new NextStepAdvice
        {
            Test = "spark-output", At = Place.Cylinder(4), Minutes = 5, Because = "It decides.", Cautions = ABench.Test("spark-output").Cautions,
        });
        var card = Render<NextStepCard>(p => p.Add(c => c.Step, step).Add(c => c.OnStart, (StepView s) => started = s));
        Assert.Equal("Spark output", card.Find("h2").TextContent);
        Assert.Equal("Cylinder 4", card.Find(".wk-where").TextContent);
        Assert.Equal(ABench.Test("spark-output").Cautions, card.FindAll(".wk-cautions li").Select(l => l.TextContent));
        Assert.Equal(ABench.Test("spark-output").HowTo, card.FindAll(".wk-how li").Select(l => l.TextContent));
        card.Find("button").Click();
        Assert.Same(step, started);
    }

    [Fact]
    public void Six_causes_are_shown_at_first_and_the_rest_on_request()
    {
        var list = CauseViews.Of(ABench.Assessment() with { Causes = [.. Enumerable.Range(1, 6).Select(c => ABench.Coil(c, 0.1)), ABench.Coil(6, 0.01) with { Cause = "plug-worn" }, ABench.Coil(5, 1e-6) with { Cause = "plug-worn" }] }, Knowledge.Shipped);
        var page = Render<CauseList>(p => p.Add(l => l.List, list));
        Assert.Equal(6, page.FindAll("button.wk-cause-line").Count);
        Assert.Contains("Something that is not on this list", page.Markup, StringComparison.Ordinal);
        page.FindAll("button").Single(b => b.TextContent == "Show 1 more").Click();
        Assert.Equal(7, page.FindAll("button.wk-cause-line").Count);
        Assert.Contains("1 more are below", page.Markup, StringComparison.Ordinal);
    }

    [Fact]
    public void A_touch_on_a_cause_takes_its_probability_apart()
    {
        var effect = new Effect("spark-output", "spark-output", Place.Cylinder(4), "none", 2.1, "A failed coil makes a weak spark or none.");
        var list = CauseViews.Of(ABench.Assessment() with { Causes = [ABench.Coil(4, 0.8, effect)] }, Knowledge.Shipped);
        var page = Render<CauseList>(p => p.Add(l => l.List, list));
        Assert.Empty(page.FindAll(".wk-evidence"));
        page.Find("button.wk-cause-line").Click();
        var evidence = Words(page.Find(".wk-evidence").TextContent);
        Assert.Contains("about 1 in 32", evidence, StringComparison.Ordinal);
        Assert.Contains("Spark output, cylinder 4: none speaks clearly for it (+2.1 bits, 4.3 times as likely with this fault)", evidence, StringComparison.Ordinal);
        Assert.Equal("true", page.Find("button.wk-cause-line").GetAttribute("aria-expanded"));
    }

    [Fact]
    public void Readings_that_speak_against_each_other_name_the_one_to_take_again()
    {
        CellKey? again = null;
        var view = ContradictionView.Of(
            new Contradiction(
                [new ProofReading("coil-swap", Place.Cylinder(2), "follows", ""), new ProofReading("spark-output", Place.Cylinder(2), "strong", "")],
                "A bad coil does not make a strong spark.", "spark-output", Place.Cylinder(2)),
            Knowledge.Shipped);
        var page = Render<Contradictions>(p => p.Add(c => c.List, [view]).Add(c => c.OnRetake, (CellKey c) => again = c));
        Assert.Equal(["Coil swapped, cylinder 2: follows the coil", "Spark output, cylinder 2: strong"], page.FindAll("li").Select(l => l.TextContent));
        page.Find("button").Click();
        Assert.Equal(new CellKey("spark-output", Place.Cylinder(2)), again);
    }

    [Fact]
    public void Going_on_without_proof_needs_a_reason()
    {
        (CauseView Cause, string Reason)? taken = null;
        var causes = CauseViews.Of(ABench.Assessment() with { Causes = [ABench.Coil(4, 0.6), ABench.Coil(2, 0.1)] }, Knowledge.Shipped).Causes;
        var page = Render<WithoutProof>(p => p.Add(w => w.Causes, causes).Add(w => w.Order, Guid.NewGuid()).Add(w => w.OnTake, ((CauseView, string) t) => taken = t));
        page.Find("button").Click();
        page.FindAll("button")[^1].Click();
        Assert.Null(taken);
        Assert.Equal("Write down the reason first.", page.Find("[role=alert]").TextContent);

        page.FindAll("fieldset button")[1].Click();
        page.Find("#wk-reason").TriggerEvent("onjournalled", new JournalledEventArgs { Value = " Customer asks for it. " });
        page.FindAll("button")[^1].Click();
        Assert.Equal((Place.Cylinder(2), "Customer asks for it."), (taken!.Value.Cause.At, taken.Value.Reason));
    }

    [Fact]
    public void Enter_hands_over_the_reading_and_a_refused_text_stays_in_its_field()
    {
        var (flow, steps, panel) = Panel("compression-dry");
        Type(panel, 0, "99999");
        panel.Find("form").Submit();
        Assert.Null(steps.Single().Reading);
        Assert.Equal("99999", panel.Find("#wk-field-0").GetAttribute("value"));
        Assert.StartsWith("Compression must be", panel.Find("#wk-field-0-about p").TextContent, StringComparison.Ordinal);
        Assert.Equal("true", panel.Find("#wk-field-0").GetAttribute("aria-invalid"));

        Type(panel, 0, "150");
        panel.Find("form").Submit();
        Assert.Equal(150 * 6.894757293168361, steps[^1].Reading!.Value.Number("kPa")!.Value, 1e-9);
        Assert.Equal(Place.Cylinder(1), flow.Cell!.Value.At);
    }

    [Fact]
    public void An_unlikely_number_is_asked_about_beside_its_field()
    {
        var (_, steps, panel) = Panel("coil-feed");
        Type(panel, 0, "19.5");
        panel.Find("form").Submit();
        Assert.Null(steps.Single().Reading);
        panel.FindAll(".wk-doubt button").Single(b => b.TextContent == "Keep 19.5").Click();
        Assert.Equal(19.5, steps[^1].Reading!.Value.Number("volts"));
    }

    [Fact]
    public void A_choice_that_the_journal_puts_back_is_shown_and_not_entered()
    {
        var (_, steps, panel) = Panel("injector-sound");
        panel.Find("#wk-field-0").TriggerEvent("onjournalled", new JournalledEventArgs { Value = "silent", Replayed = true });
        Assert.Empty(steps);
        Assert.Equal("true", panel.Find("[data-choice=silent]").GetAttribute("aria-pressed"));
        panel.Find("#wk-field-0").TriggerEvent("onjournalled", new JournalledEventArgs { Value = "silent" });
        Assert.Equal("silent", steps.Single().Reading!.Value.Text("sound"));
    }

    [Fact]
    public void Conditions_are_chosen_several_at_once_and_none_ends_the_entry()
    {
        var (_, steps, panel) = Panel("road-check", Place.Engine);
        Assert.NotNull(panel.Find("[data-choices=wk-field-0][data-several]"));
        panel.Find("#wk-field-0").TriggerEvent("onjournalled", new JournalledEventArgs { Value = "idle,wet" });
        Assert.Empty(steps);
        Assert.Equal(["idle", "wet"], panel.FindAll("[data-choice][aria-pressed=true]").Select(b => b.GetAttribute("data-choice")));
        panel.Find("form").Submit();
        Assert.Equal(["idle", "wet"], steps.Single().Reading!.Value.Texts("conditions"));

        Assert.Equal("It did not misfire during the drive", panel.Find("[data-choice='-']").TextContent);
        panel.Find("#wk-field-0").TriggerEvent("onjournalled", new JournalledEventArgs { Value = CellField.None });
        Assert.Empty(steps[^1].Reading!.Value.Texts("conditions"));
    }

    [Fact]
    public void One_engine_has_one_place_and_no_row_of_place_keys()
    {
        var (_, steps, panel) = Panel("egr-block", Place.Engine);
        Assert.Empty(panel.FindAll(".wk-place-key"));
        Assert.Contains("Whole engine", panel.Find("h2").TextContent, StringComparison.Ordinal);
        panel.Find("#wk-field-0").TriggerEvent("onjournalled", new JournalledEventArgs { Value = "no" });
        Assert.Equal("no", steps.Single().Reading!.Value.Text("misfireGone"));
    }

    [Fact]
    public void Every_field_is_kept_on_the_tablet_under_its_cell()
    {
        var (flow, _, panel) = Panel("power-balance");
        var drafts = panel.FindAll("[data-draft]").Select(e => CellKey.ReadDraft(Order, e.GetAttribute("data-draft")!)).ToArray();
        Assert.Equal(["baseRpm", "cancelledRpm", EntryPanel.NoteField], drafts.Select(d => d!.Value.Field));
        Assert.All(drafts, d => Assert.Equal(flow.Cell, d!.Value.Cell));
    }

    [Fact]
    public void The_pad_offers_a_sign_only_where_numbers_below_zero_can_be()
    {
        Assert.Empty(Panel("compression-dry").Panel.FindAll("[data-key='-']"));
        Assert.Single(Panel("fuel-trims", Place.Bank(1)).Panel.FindAll("[data-key='-']"));
    }

    private static readonly Guid Order = Guid.NewGuid();

    private (EntryFlow Flow, List<EntryStep> Steps, IRenderedComponent<EntryPanel> Panel) Panel(string test, Place? at = null)
    {
        var flow = new EntryFlow(ABench.V6, Knowledge.Shipped, ABench.Us, _ => false, _ => false);
        flow.Open(new CellKey(test, at ?? Place.Cylinder(1)));
        var steps = new List<EntryStep>();
        var panel = Render<EntryPanel>(p => p
            .Add(e => e.Flow, flow).Add(e => e.Order, Order).Add(e => e.Engine, ABench.V6).Add(e => e.Filled, _ => false).Add(e => e.Blocked, _ => false)
            .Add(e => e.History, new CellHistory([], []))
            .Add(e => e.OnStep, EventCallback.Factory.Create<EntryStep>(this, steps.Add)));
        return (flow, steps, panel);
    }

    private static void Type(IRenderedComponent<EntryPanel> panel, int field, string text)
    {
        panel.Find($"[data-field='wk-field-{field}']").FocusIn();
        panel.Find($"#wk-field-{field}").TriggerEvent("onjournalled", new JournalledEventArgs { Value = text });
    }

    private static string Words(string text) => string.Join(" ", text.Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries)).Replace(" ,", ",", StringComparison.Ordinal);
}
