using System.Globalization;
using AngleSharp.Dom;
using Bunit;
using ShopDiag.Diagnosis.BenchTests;
using ShopDiag.Storage.Orders;
using ShopDiag.Web.Saving;
using ShopDiag.Web.Tests.Support;

namespace ShopDiag.Web.Tests.Saving;

public sealed class SavedFieldTests : PageTest
{
    private readonly List<FieldEntry> _sent = [];
    private SaveResult? _answer;

    [Fact]
    public async Task A_saved_entry_is_acknowledged_to_the_journal()
    {
        var field = RenderField("old");
        Assert.Equal(("order:1:Plate", "old", null), (Input(field).GetAttribute("data-draft"), Input(field).GetAttribute("data-saved"), Input(field).GetAttribute("data-ack")));
        await TypeAsync(field, "new", 4);
        Time.Advance(FieldSaving.Pause);
        field.WaitForAssertion(() => Assert.Equal(("new", "4"), (Input(field).GetAttribute("data-saved"), Input(field).GetAttribute("data-ack"))));
    }

    [Fact]
    public async Task A_refusal_stands_beside_the_text_and_is_read_out()
    {
        _answer = new SaveResult(SaveOutcome.Refused, "old", "A whole number from 1950 to 2100, or nothing.");
        var field = RenderField("old");
        await TypeAsync(field, "ninety", 1);
        Time.Advance(FieldSaving.Pause);
        field.WaitForAssertion(() => Assert.Equal("Not saved: A whole number from 1950 to 2100, or nothing.", field.Find("[role=alert]").TextContent));
        var input = Input(field);
        Assert.Equal(("ninety", "true", null), (input.GetAttribute("value"), input.GetAttribute("aria-invalid"), input.GetAttribute("data-ack")));
        Assert.Contains("A whole number", field.Find("#" + input.GetAttribute("aria-describedby")).TextContent, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_text_that_is_too_long_stays_whole_in_the_field_and_is_refused_beside_it()
    {
        var (field, text) = (RenderField("old"), new string('a', 201));
        Assert.True(int.Parse(Input(field).GetAttribute("maxlength")!, CultureInfo.InvariantCulture) > 8000);
        await TypeAsync(field, text, 1);
        Time.Advance(FieldSaving.Pause);
        field.WaitForAssertion(() => Assert.Equal("Not saved: At most 200 letters fit here; these are 201. Nothing is cut off: make it shorter.", field.Find("[role=alert]").TextContent));
        Assert.Equal((text, "old"), (Input(field).GetAttribute("value"), Input(field).GetAttribute("data-saved")));
        Assert.Empty(_sent);
    }

    [Fact]
    public async Task A_conflict_shows_both_values_and_taking_theirs_puts_theirs_in_the_field()
    {
        var field = await RenderConflictAsync();
        Assert.Contains("“theirs”", field.Find("[role=alert]").TextContent, StringComparison.Ordinal);
        Assert.Contains("“mine”", field.Find("[role=alert]").TextContent, StringComparison.Ordinal);
        Button(field, "Take theirs").Click();
        Assert.Equal(("theirs", "1"), (Input(field).GetAttribute("value"), Input(field).GetAttribute("data-ack")));
        Assert.Empty(field.FindAll("[role=alert]"));
    }

    [Fact]
    public async Task A_conflict_ended_with_mine_saves_mine()
    {
        var field = await RenderConflictAsync();
        _answer = null;
        Button(field, "Keep mine").Click();
        field.WaitForAssertion(() => Assert.Empty(field.FindAll("[role=alert]")));
        Assert.Equal(("mine", "theirs"), (_sent[^1].Value, _sent[^1].Base));
    }

    [Fact]
    public void Personal_data_is_marked_so_that_the_browser_does_not_store_it()
    {
        var field = Render<SavedField>(p => p.Add(f => f.Label, "Name").Add(f => f.Draft, "order:1:CustomerName").Add(f => f.Value, "").Add(f => f.Save, SaveAsync).Add(f => f.Private, true));
        Assert.True(Input(field).HasAttribute("data-private"));
        Assert.False(Input(field).HasAttribute("data-auto"));
    }

    [Fact]
    public void The_label_belongs_to_the_input()
    {
        var field = RenderField("x");
        Assert.Equal(("Plate", Input(field).Id), (field.Find("label").TextContent, field.Find("label").GetAttribute("for")));
    }

    [Fact]
    public async Task Chips_save_the_chosen_ids_as_one_text()
    {
        var field = Render<SavedField>(p => p.Add(f => f.Label, "When").Add(f => f.Draft, "order:1:ConcernWhen").Add(f => f.Value, "idle").Add(f => f.Save, SaveAsync)
            .Add(f => f.Kind, SavedFieldKind.SeveralOf).Add(f => f.Options, [new Choice("idle", "At idle"), new Choice("wet", "In the wet")]));
        Assert.Equal("When", field.Find("fieldset > legend").TextContent);
        Assert.Equal(["idle"], field.FindAll("input:checked").Select(i => i.GetAttribute("value")));
        await field.Find("input[value=wet]").TriggerEventAsync("onjournalled", new JournalledEventArgs { Value = "idle, wet", Base = "idle", Sequence = 1, Id = Guid.NewGuid() });
        Time.Advance(FieldSaving.Pause);
        field.WaitForAssertion(() => Assert.Equal("idle, wet", field.Find("fieldset").GetAttribute("data-saved")));
        Assert.Equal(["idle", "wet"], field.FindAll("input:checked").Select(i => i.GetAttribute("value")));
    }

    private static IElement Input(IRenderedComponent<SavedField> field) => field.Find("input");

    private static IElement Button(IRenderedComponent<SavedField> field, string text) => field.FindAll("button").Single(b => b.TextContent == text);

    private static Task TypeAsync(IRenderedComponent<SavedField> field, string text, long sequence) =>
        Input(field).TriggerEventAsync("onjournalled", new JournalledEventArgs { Value = text, Base = "old", Sequence = sequence, Id = Guid.NewGuid() });

    private async Task<IRenderedComponent<SavedField>> RenderConflictAsync()
    {
        _answer = new SaveResult(SaveOutcome.Conflict, "theirs", "changed");
        var field = RenderField("old");
        await TypeAsync(field, "mine", 1);
        Time.Advance(FieldSaving.Pause);
        field.WaitForElement("[role=alert]");
        return field;
    }

    private IRenderedComponent<SavedField> RenderField(string value) =>
        Render<SavedField>(p => p.Add(f => f.Label, "Plate").Add(f => f.Draft, "order:1:Plate").Add(f => f.Value, value).Add(f => f.Save, SaveAsync));

    private Task<SaveResult> SaveAsync(FieldEntry entry)
    {
        _sent.Add(entry);
        return Task.FromResult(_answer ?? new SaveResult(SaveOutcome.Saved, entry.Value));
    }
}
