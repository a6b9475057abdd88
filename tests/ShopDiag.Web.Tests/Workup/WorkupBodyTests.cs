using Bunit;
using Microsoft.Extensions.DependencyInjection;
using ShopDiag.Diagnosis;
using ShopDiag.Diagnosis.BenchTests;
using ShopDiag.Storage.Orders;
using ShopDiag.Storage.Shop;
using ShopDiag.Web.Components.Pages;
using ShopDiag.Web.Components.WorkupViews;
using ShopDiag.Web.Saving;
using ShopDiag.Web.Tests.Support;

namespace ShopDiag.Web.Tests.WorkupViews;

/// <summary>The page over a real database: what a technician does and what becomes of it.</summary>
public sealed class WorkupBodyTests() : OrderPageTest(new ShopSettings { Name = "Test shop", UnitSystem = "us" })
{
    [Fact]
    public async Task A_round_typed_through_lands_in_the_database_in_base_units_and_on_the_sheet()
    {
        var page = Open();
        page.Act(p => p.PressCell("compression-dry:c1"));
        foreach (var (psi, next) in new[] { ("160", "3"), ("158", "5"), ("161", "2") })
        {
            Enter(page, psi);
            page.WaitForAssertion(() => Assert.Equal(next, page.Find(".wk-place-key[aria-current=step]").FirstChild!.TextContent.Trim()));
        }

        page.WaitForAssertion(() => Assert.Contains("161", page.Find("[data-cell='compression-dry:c5']").TextContent, StringComparison.Ordinal));
        var kept = (await Orders.GetAsync(Order))!;
        Assert.Equal([1, 3, 5], kept.Readings.Select(r => r.Reading.At.First));
        Assert.Equal(160 * 6.894757293168361, kept.Readings[0].Reading.Value.Number("kPa")!.Value, 1e-9);
        Assert.Equal(OrderStage.InDiagnosis, kept.Stage);
        Assert.Equal("Saved: Compression, dry, cylinder 5: 161 psi", page.Find("[role=status].wk-saved").TextContent.Trim());
    }

    [Fact]
    public async Task A_reading_is_with_the_journal_before_the_database_has_it_and_its_drafts_are_forgotten()
    {
        var page = Open();
        page.Act(p => p.PressCell("injector-sound:c4"));
        Touch(page, "silent");
        page.WaitForAssertion(() => Assert.Contains(JSInterop.Invocations, i => i.Identifier == "journal.done"));
        var calls = JSInterop.Invocations.Select(i => i.Identifier).ToList();
        Assert.InRange(calls.IndexOf("journal.command"), 0, calls.IndexOf("journal.done"));
        var command = JSInterop.Invocations.First(i => i.Identifier == "journal.command");
        Assert.Equal(SaveReading.Kind, command.Arguments[0]);
        // The same command again, as after a killed server, adds nothing.
        var handler = Services.GetServices<ICommandHandler>().Single(h => h.Kind == SaveReading.Kind);
        Assert.Equal(SaveOutcome.AlreadySaved, (await handler.HandleAsync((Guid)command.Arguments[1]!, (string)command.Arguments[2]!)).Outcome);
        Assert.Single((await Orders.GetAsync(Order))!.Readings);
    }

    [Fact]
    public async Task Undo_takes_the_reading_back_and_keeps_it_on_record()
    {
        var page = Open();
        page.Act(p => p.PressCell("injector-sound:c4"));
        Touch(page, "silent");
        page.WaitForAssertion(() => Assert.Contains("Saved:", page.Find(".wk-saved").TextContent, StringComparison.Ordinal));
        page.Act(p => Button(p, "Undo").Click());
        page.WaitForAssertion(() => Assert.Contains("Taken back", page.Find(".wk-saved").TextContent, StringComparison.Ordinal));
        page.WaitForAssertion(() => Assert.DoesNotContain("silent", page.Find("[data-cell='injector-sound:c4']").TextContent, StringComparison.Ordinal));
        Assert.Equal(2, (await Orders.GetAsync(Order))!.Readings.Length);
    }

    [Fact]
    public async Task What_another_tablet_reads_appears_by_itself_and_is_marked()
    {
        var page = Open();
        await Orders.AddReadingAsync(Order, new NewReading { Id = Guid.NewGuid(), Reading = ABench.Compression(4, 1100) });
        page.WaitForAssertion(() => Assert.Contains("160", page.Find("[data-cell='compression-dry:c4']").TextContent, StringComparison.Ordinal), TimeSpan.FromSeconds(5));
        Assert.Single(page.FindAll("[data-cell='compression-dry:c4'] .wk-fresh"));
    }

    [Fact]
    public async Task A_new_value_in_a_filled_cell_corrects_it_unless_it_is_another_trial()
    {
        await Orders.AddReadingAsync(Order, new NewReading { Id = Guid.NewGuid(), Reading = ABench.Compression(4, 110) });
        var page = Open();
        page.Act(p => p.PressCell("compression-dry:c4"));
        Enter(page, "160");
        page.WaitForAssertion(() => Assert.Contains("160", page.Find("[data-cell='compression-dry:c4']").TextContent, StringComparison.Ordinal));
        page.Act(p => p.PressCell("compression-dry:c4"));
        page.WaitForElement(".wk-mode");
        page.Act(p => Button(p, "Another trial").Click());
        Enter(page, "162");
        page.WaitForAssertion(() => Assert.Contains("2 trials", page.Find("[data-cell='compression-dry:c4']").TextContent, StringComparison.Ordinal));
        Assert.Equal([true, false, false], (await Orders.GetAsync(Order))!.Readings.Select(r => r.Superseded));
    }

    [Fact]
    public async Task What_is_entered_in_another_cell_while_a_reading_is_being_saved_is_saved_after_it_and_Enter_twice_counts_once()
    {
        var page = Open();
        var journal = JSInterop.SetupVoid("journal.command", _ => true);
        page.Act(p => p.PressCell("compression-dry:c4"));
        Enter(page, "160");
        page.Act(p => p.Find("[data-entry-form]").Submit());
        page.Act(p => p.PressCell("compression-dry:c2"));
        Enter(page, "150");
        page.Act(p => p.Find("[data-entry-form]").Submit());
        Assert.Empty((await Orders.GetAsync(Order))!.Readings);

        journal.SetVoidResult();

        page.WaitForAssertion(() => Assert.Contains("150", page.Find("[data-cell='compression-dry:c2']").TextContent, StringComparison.Ordinal));
        Assert.Contains("160", page.Find("[data-cell='compression-dry:c4']").TextContent, StringComparison.Ordinal);
        Assert.Equal(2, (await Orders.GetAsync(Order))!.Readings.Length);
    }

    [Fact]
    public async Task From_a_dead_cylinder_to_the_proof_and_the_finding()
    {
        foreach (var cylinder in ABench.V6.Cylinders)
        {
            await Orders.AddReadingAsync(Order, new NewReading
            {
                Id = Guid.NewGuid(),
                Reading = ABench.Reading("power-balance", Place.Cylinder(cylinder), ("baseRpm", FieldValue.Of(700)), ("cancelledRpm", FieldValue.Of(cylinder == 4 ? 692 : 640))),
            });
        }

        var page = Open();
        Assert.Contains("dead", page.Find(".plan-cylinder[data-cylinder='4']").TextContent, StringComparison.Ordinal);
        page.Act(p => p.PressCell("spark-output:c4"));
        Touch(page, "none", field: 1);
        page.WaitForAssertion(() => Assert.Contains("none", page.Find("[data-cell='spark-output:c4']").TextContent, StringComparison.Ordinal));
        page.Act(p => p.PressCell("coil-feed:c4"));
        Enter(page, "12.4");
        page.WaitForAssertion(() => Assert.Contains("12.4", page.Find("[data-cell='coil-feed:c4']").TextContent, StringComparison.Ordinal));
        page.Act(p => p.PressCell("coil-control:c4"));
        Touch(page, "present");
        page.WaitForAssertion(() => Assert.Contains("Proven: Ignition coil failed, cylinder 4", page.Find(".wk-finding h2").TextContent, StringComparison.Ordinal));

        page.Act(p => Button(p, "Take over as finding").Click());
        page.WaitForAssertion(() => Assert.Contains("Finding: Ignition coil failed, cylinder 4", page.Find(".wk-finding-taken h2").TextContent, StringComparison.Ordinal));
        var finding = (await Orders.GetAsync(Order))!.Finding!;
        Assert.Null(finding.UnprovenReason);
        Assert.Equal(["spark-output", "coil-feed", "coil-control"], finding.Conclusion.Proof.Select(p => p.Test));
        Assert.Equal("Repair", page.FindAll(".wk-next h2")[^1].TextContent);

        page.Act(p => Button(p, "Take the finding back").Click());
        page.WaitForAssertion(() => Assert.Empty(page.FindAll(".wk-finding-taken")));
        Assert.Null((await Orders.GetAsync(Order))!.Finding);
    }

    [Fact]
    public void What_was_typed_and_never_entered_is_offered_to_be_picked_up()
    {
        var module = JSInterop.SetupModule("./Components/Workup/WorkupBody.razor.js");
        module.Mode = JSRuntimeMode.Loose;
        var cell = new CellKey("compression-dry", Place.Cylinder(3));
        module.Setup<string[]?>("drafts", _ => true).SetResult([cell.DraftKey(Order, "kPa"), cell.DraftKey(Order, EntryPanel.NoteField), "order:other:cell:x:c1:y"]);
        var page = Open();
        page.WaitForAssertion(() => Assert.Equal("Unfinished entry on this tablet: Compression, dry, cylinder 3", Assert.Single(page.FindAll(".wk-unfinished p")).TextContent));
        page.Act(p => Button(p, "Pick it up").Click());
        page.WaitForAssertion(() => Assert.Equal(cell.DraftKey(Order, "kPa"), page.Find("#wk-field-0").GetAttribute("data-draft")));
        Assert.Empty(page.FindAll(".wk-unfinished"));
    }

    [Fact]
    public async Task A_correction_corrects_what_another_tablet_has_corrected_meanwhile()
    {
        var first = new NewReading { Id = Guid.NewGuid(), Reading = ABench.Compression(4, 110) };
        await Orders.AddReadingAsync(Order, first);
        var page = Open();
        page.Act(p => p.PressCell("compression-dry:c4"));
        page.WaitForElement(".wk-mode");
        await Orders.AddReadingAsync(Order, new NewReading { Id = Guid.NewGuid(), Reading = ABench.Compression(4, 1100), SupersedesId = first.Id });
        page.WaitForAssertion(() => Assert.Contains("160", page.Find("[data-cell='compression-dry:c4']").TextContent, StringComparison.Ordinal), TimeSpan.FromSeconds(5));
        Enter(page, "162");
        page.WaitForAssertion(() => Assert.Contains("162", page.Find("[data-cell='compression-dry:c4']").TextContent, StringComparison.Ordinal));
        Assert.Equal([true, true, false], (await Orders.GetAsync(Order))!.Readings.Select(r => r.Superseded));
    }

    [Fact]
    public async Task Without_an_engine_the_page_says_what_is_missing()
    {
        var other = await Orders.OpenAsync(Guid.NewGuid(), "Lena");
        var page = Render<WorkupPage>(p => p.Add(w => w.Number, other.Number));
        page.WaitForAssertion(() => Assert.Contains("needs to know the engine", page.Markup, StringComparison.Ordinal));
    }

    private IRenderedComponent<WorkupPage> Open()
    {
        var page = Render<WorkupPage>(p => p.Add(w => w.Number, Number));
        page.WaitForElement("[data-sheet]", TimeSpan.FromSeconds(10));
        return page;
    }

    private static void Enter(IRenderedComponent<WorkupPage> page, string text)
    {
        page.WaitForElement("[data-field='wk-field-0']");
        page.Act(p => p.Find("[data-field='wk-field-0']").FocusIn());
        page.Act(p => p.Find("#wk-field-0").TriggerEvent("onjournalled", new JournalledEventArgs { Value = text }));
        page.Act(p => p.Find("[data-entry-form]").Submit());
    }

    private static void Touch(IRenderedComponent<WorkupPage> page, string choice, int field = 0)
    {
        page.WaitForElement($"#wk-field-{field}");
        page.Act(p => p.Find($"#wk-field-{field}").TriggerEvent("onjournalled", new JournalledEventArgs { Value = choice }));
    }

    private static AngleSharp.Dom.IElement Button(IRenderedComponent<WorkupPage> page, string text) =>
        page.FindAll("button").First(b => b.TextContent.Trim() == text);
}
