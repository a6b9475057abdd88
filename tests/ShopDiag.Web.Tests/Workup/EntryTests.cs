using ShopDiag.Diagnosis;
using ShopDiag.Diagnosis.BenchTests;
using ShopDiag.Web.Components.WorkupViews;

namespace ShopDiag.Web.Tests.WorkupViews;

public sealed class EntryTests
{
    private static readonly HashSet<CellKey> NothingRead = [];

    [Fact]
    public void Psi_is_kept_as_kilopascals_to_the_last_digit_and_shown_as_it_was_typed()
    {
        var field = Field("compression-dry", "kPa", ABench.Us, "145");
        var kept = field.Read()!.Numbers[0];
        Assert.Equal(145 * 6.894757293168361, kept, 1e-9);
        Assert.Equal("145", CellField.TextOf(FieldValue.Of(kept), field.Field, ABench.Us));
        Assert.Equal("psi", field.Symbol);
    }

    [Theory]
    [InlineData("12.4", 12.4)]
    [InlineData("12,4", 12.4)]
    [InlineData(" 12.4 ", 12.4)]
    public void A_comma_or_blanks_in_a_number_do_no_harm(string text, double volts) =>
        Assert.Equal(volts, Field("coil-feed", "volts", ABench.Us, text).Read()!.Numbers[0]);

    [Theory]
    [InlineData("99")]
    [InlineData("-3")]
    [InlineData("twelve")]
    [InlineData("1.2.3")]
    [InlineData("NaN")]
    public void What_cannot_be_is_refused_and_its_text_stays(string text)
    {
        var field = Field("coil-feed", "volts", ABench.Us, text);
        Assert.Null(field.Read());
        Assert.NotNull(field.Refusal);
        Assert.Equal(text, field.Text);
    }

    [Fact]
    public void The_refusal_says_what_is_possible_in_the_units_of_the_shop()
    {
        var field = Field("compression-dry", "kPa", ABench.Us, "9000");
        Assert.Null(field.Read());
        Assert.Contains(" psi.", field.Refusal, StringComparison.Ordinal);
        Assert.DoesNotContain("kPa", field.Refusal!, StringComparison.Ordinal);
    }

    [Fact]
    public void The_unlikely_is_asked_about_once()
    {
        var field = Field("coil-feed", "volts", ABench.Us, "19.5");
        Assert.Null(field.Read());
        Assert.StartsWith("19.5 V is unusual", field.Doubt, StringComparison.Ordinal);
        Assert.Equal(19.5, field.Read()!.Numbers[0]);

        field.Text = "20.5";
        Assert.Null(field.Doubt);
        Assert.Null(field.Read());
        Assert.NotNull(field.Doubt);
        field.Keep();
        Assert.Equal(20.5, field.Read()!.Numbers[0]);
    }

    [Fact]
    public void Enter_leads_to_the_next_field_and_from_the_last_to_the_reading()
    {
        var form = Form("power-balance", Place.Cylinder(1));
        form["baseRpm"].Text = "702";
        Assert.Equal(new EntryStep(null, "cancelledRpm"), form.Enter("baseRpm"));
        form["cancelledRpm"].Text = "641";
        var reading = form.Enter("cancelledRpm").Reading!;
        Assert.Equal((702, 641), (reading.Value.Number("baseRpm"), reading.Value.Number("cancelledRpm")));
        Assert.Equal(Place.Cylinder(1), reading.At);
    }

    [Fact]
    public void Enter_on_what_cannot_be_goes_nowhere()
    {
        var form = Form("power-balance", Place.Cylinder(1));
        form["baseRpm"].Text = "70200";
        Assert.Equal(new EntryStep(null, "baseRpm"), form.Enter("baseRpm"));
        Assert.NotNull(form["baseRpm"].Refusal);
    }

    [Fact]
    public void A_missing_field_is_asked_for()
    {
        var form = Form("power-balance", Place.Cylinder(1));
        form["cancelledRpm"].Text = "641";
        Assert.Equal(new EntryStep(null, "baseRpm"), form.Enter("cancelledRpm"));
        Assert.Equal("Speed before is missing.", form["baseRpm"].Refusal);
    }

    [Fact]
    public void One_touch_on_the_only_choice_is_the_reading()
    {
        var reading = Form("injector-sound", Place.Cylinder(2)).Touch("sound", "silent").Reading!;
        Assert.Equal("silent", reading.Value.Text("sound"));
    }

    [Fact]
    public void A_setting_of_the_tester_is_offered_but_not_asked_for()
    {
        var form = Form("spark-output", Place.Cylinder(2));
        Assert.Equal("jumps", form.First);
        Assert.NotNull(form.Touch("jumps", "steady").Reading);
    }

    [Fact]
    public void A_touch_waits_for_what_is_asked_after_it()
    {
        var form = Form("plug-condition", Place.Cylinder(2));
        Assert.Equal(new EntryStep(null, "gapMm"), form.Touch("look", "worn"));
        Assert.Equal(new EntryStep(null, "well"), form.Enter("gapMm"));
        Assert.NotNull(form.Enter("well").Reading);
    }

    [Fact]
    public void After_none_nothing_more_is_asked()
    {
        var reading = Form("trouble-codes", Place.Engine).Touch("codes", CellField.None).Reading!;
        Assert.True(reading.Value.Has("codes"));
        Assert.Empty(reading.Value.Texts("codes"));
    }

    [Fact]
    public void Several_conditions_are_gathered_until_Enter()
    {
        var form = Form("road-check", Place.Engine);
        Assert.Null(form.Touch("conditions", "idle").Reading);
        Assert.Null(form.Touch("conditions", "idle,wet").Reading);
        Assert.Equal(["idle", "wet"], form.Finish().Reading!.Value.Texts("conditions"));
    }

    [Fact]
    public void A_drive_without_a_misfire_is_one_touch()
    {
        var reading = Form("road-check", Place.Engine).Touch("conditions", CellField.None).Reading!;
        Assert.True(reading.Value.Has("conditions"));
        Assert.Empty(reading.Value.Texts("conditions"));
    }

    [Fact]
    public void None_left_over_beside_a_condition_does_no_harm_and_nothing_at_all_is_asked_for()
    {
        var form = Form("road-check", Place.Engine);
        Assert.Equal(new EntryStep(null, "conditions"), form.Finish());
        form["conditions"].Text = "-,cold";
        Assert.Equal(["cold"], form.Finish().Reading!.Value.Texts("conditions"));
    }

    [Fact]
    public void Yes_and_no_are_one_touch() =>
        Assert.Equal("yes", Form("egr-block", Place.Engine).Touch("misfireGone", "yes").Reading!.Value.Text("misfireGone"));

    [Fact]
    public void Codes_are_read_as_they_are_written_down_and_a_wrong_one_is_named()
    {
        var form = Form("trouble-codes", Place.Engine);
        form["codes"].Text = "p0304, P0171";
        Assert.Equal(["P0304", "P0171"], form.Finish().Reading!.Value.Texts("codes"));

        form["codes"].Text = "P0304 X12";
        Assert.Equal(new EntryStep(null, "codes"), form.Finish());
        Assert.Contains("'X12' is no trouble code", form["codes"].Refusal, StringComparison.Ordinal);
    }

    [Fact]
    public void A_coil_cannot_be_swapped_with_its_own_cylinder()
    {
        var form = Form("coil-swap", Place.Cylinder(4));
        form.Touch("swappedWith", "4");
        var step = form.Touch("misfireMovedTo", "1");
        Assert.Equal(new EntryStep(null, "swappedWith"), step);
        Assert.Contains("another cylinder", form["swappedWith"].Refusal, StringComparison.Ordinal);
    }

    [Fact]
    public void A_round_goes_bank_by_bank_or_as_the_engine_fires()
    {
        Assert.Equal([3, 5, 2, 4, 6, 1], Numbers(EntryRound.From(Place.Cylinder(3), ABench.V6, firingOrder: false, _ => false, _ => false)));
        Assert.Equal([3, 4, 2, 1], Numbers(EntryRound.From(Place.Cylinder(3), ABench.Four, firingOrder: true, _ => false, _ => false)));
    }

    [Fact]
    public void A_round_passes_over_what_is_read_already_unless_all_of_it_is()
    {
        var round = EntryRound.From(Place.Cylinder(1), ABench.Four, false, p => p == Place.Cylinder(2), _ => false);
        Assert.Equal([1, 3, 4], Numbers(round));
        // Somebody else has read cylinder 3 meanwhile.
        Assert.Equal(Place.Cylinder(4), round.After(Place.Cylinder(1), p => p == Place.Cylinder(3), _ => false));

        var again = EntryRound.From(Place.Cylinder(2), ABench.Four, false, _ => true, _ => false);
        Assert.Equal([2, 3, 4, 1], Numbers(again));
        Assert.Equal(Place.Cylinder(3), again.After(Place.Cylinder(2), _ => true, _ => false));
    }

    [Fact]
    public void No_round_goes_to_a_place_that_is_barred_unless_it_begins_there()
    {
        var second = Place.Cylinder(2);
        Assert.Equal([1, 3, 4], Numbers(EntryRound.From(Place.Cylinder(1), ABench.Four, false, _ => false, p => p == second)));
        Assert.Equal([2, 3, 4, 1], Numbers(EntryRound.From(second, ABench.Four, false, _ => false, p => p == second)));
        // All that can be read is read: a further round is one over these.
        var again = EntryRound.From(Place.Cylinder(1), ABench.Four, false, p => p != second, p => p == second);
        Assert.Equal([1, 3, 4], Numbers(again));
        Assert.True(again.Again);
        // Barred while the round is under way.
        Assert.Equal(Place.Cylinder(4), again.After(Place.Cylinder(1), _ => true, p => p == Place.Cylinder(3)));
    }

    [Fact]
    public void After_a_reading_the_next_cylinder_follows_and_the_round_ends_by_itself()
    {
        var read = new HashSet<CellKey>();
        var flow = Flow(read);
        flow.Start(new CellKey("compression-dry", Place.Cylinder(1)), round: true);
        var entered = new List<int>();
        while (flow.Form is { } form)
        {
            form["kPa"].Text = "150";
            Assert.NotNull(form.Enter("kPa").Reading);
            read.Add(form.Cell);
            entered.Add(form.Cell.At.First);
            flow.Advance();
        }

        Assert.Equal([1, 3, 5, 2, 4, 6], entered);
        Assert.Null(flow.Test);
    }

    [Fact]
    public void What_stays_the_same_for_a_round_is_typed_once()
    {
        var flow = Flow(NothingRead);
        flow.Open(new CellKey("misfire-counts", Place.Cylinder(1)));
        flow.Form!["misfires"].Text = "3";
        flow.Form["revolutions"].Text = "1000";
        flow.Form.Warm = true;
        flow.Advance();
        Assert.Equal(("", "1000", true), (flow.Form["misfires"].Text, flow.Form["revolutions"].Text, flow.Form.Warm));
        flow.Form["misfires"].Text = "5";
        Assert.NotNull(flow.Form.Enter("misfires").Reading);
    }

    [Fact]
    public void A_suggestion_for_one_cylinder_ends_after_it()
    {
        var flow = Flow(NothingRead);
        flow.Start(new CellKey("spark-output", Place.Cylinder(4)), round: false);
        Assert.False(flow.Advance());
        Assert.Null(flow.Cell);
    }

    [Fact]
    public void A_second_number_is_a_trial_in_a_balance_run_and_a_correction_elsewhere()
    {
        var flow = Flow(NothingRead);
        flow.Open(new CellKey("power-balance", Place.Cylinder(1)));
        Assert.Equal(EntryMode.Trial, flow.Form!.Mode);
        flow.Open(new CellKey("compression-dry", Place.Cylinder(1)));
        Assert.Equal(EntryMode.Correct, flow.Form!.Mode);
    }

    private static EntryFlow Flow(HashSet<CellKey> read) => new(ABench.V6, Knowledge.Shipped, ABench.Us, read.Contains, _ => false);

    private static int[] Numbers(EntryRound round) => [.. round.Places.Select(p => p.First)];

    private static EntryForm Form(string test, Place at) => new(new CellKey(test, at), ABench.Test(test), ABench.V6, ABench.Us);

    private static CellField Field(string test, string name, ShopUnits units, string text) =>
        new(ABench.Test(test).Fields.First(f => f.Name == name), units) { Text = text };
}
