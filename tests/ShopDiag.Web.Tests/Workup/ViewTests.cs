using ShopDiag.Diagnosis;
using ShopDiag.Diagnosis.BenchTests;
using ShopDiag.Diagnosis.Workups;
using ShopDiag.Storage.Orders;
using ShopDiag.Storage.Shop;
using ShopDiag.Web.Components.WorkupViews;

namespace ShopDiag.Web.Tests.WorkupViews;

public sealed class ViewTests
{
    private static readonly ShopSettings Shop = new() { UnitSystem = "us" };

    [Fact]
    public void The_sheet_has_the_cylinders_in_bank_order()
    {
        var sheet = Sheet(ABench.Order(Array.Empty<Reading>()), ABench.Assessment());
        Assert.Equal([[1, 3, 5], [2, 4, 6]], sheet.Banks.Select(b => b.Cylinders.ToArray()));
        Assert.Equal([1, 3, 5, 2, 4, 6], Row(sheet, "compression-dry:Cylinder").Cells.Select(c => c.Key.At.First));
        Assert.Equal([3, 3], Row(sheet, "fuel-trims:Bank").Cells.Select(c => c.Span));
        Assert.Equal([6], Row(sheet, "trouble-codes:Engine").Cells.Select(c => c.Span));
    }

    [Fact]
    public void Tests_that_make_no_sense_on_the_engine_are_not_on_the_sheet()
    {
        var sheet = Sheet(ABench.Order(Array.Empty<Reading>()), ABench.Assessment());
        Assert.All(Knowledge.Shipped.Tests, t => Assert.Equal(t.Fits(ABench.V6), sheet.Rows.SelectMany(r => r.Cells).Any(c => c.Key.Test == t.Id)));
    }

    [Fact]
    public void A_cell_shows_the_figure_without_its_unit_and_the_word_of_the_outcome()
    {
        var order = ABench.Order(ABench.Compression(4, 620));
        var sheet = Sheet(order, ABench.Assessment(ABench.Finding("compression-dry", Place.Cylinder(4), "low", measure: 620)));
        var cell = sheet.Cell(new CellKey("compression-dry", Place.Cylinder(4)))!;
        Assert.Equal(("90", "low", "hatch", 1), (cell.Figure, cell.Mark.Word, cell.Mark.Pattern, cell.Trials));
        Assert.Equal("psi", Row(sheet, "compression-dry:Cylinder").Unit);
    }

    [Fact]
    public void A_cell_that_cannot_tell_says_so_and_the_row_says_why()
    {
        var order = ABench.Order(ABench.Compression(4, 620));
        var sheet = Sheet(order, ABench.Assessment(ABench.Finding("compression-dry", Place.Cylinder(4), null, "Too few cranks. Take it again.")));
        Assert.Equal("can't tell", sheet.Cell(new CellKey("compression-dry", Place.Cylinder(4)))!.Mark.Word);
        Assert.Equal(["Cylinder 4: Too few cranks. Take it again."], Row(sheet, "compression-dry:Cylinder").Remarks);
    }

    [Fact]
    public void Reasons_that_differ_in_their_numbers_only_are_said_once()
    {
        var findings = new[] { 1, 3 }.Select(c => ABench.Finding("power-balance", Place.Cylinder(c), null, $"The speed fell by {c} rpm. Fix the idle in open loop."));
        Assert.Equal(["Cylinder 1, cylinder 3: Fix the idle in open loop."], CannotTell.Remarks(findings, 6));
    }

    [Fact]
    public void Codes_are_shown_where_they_are_read_with_the_cylinder_they_name()
    {
        var order = ABench.Order(Array.Empty<Reading>()) with { Concern = new Concern { Codes = ["P0304"] } };
        var sheet = Sheet(order, ABench.Assessment(
            ABench.Finding("trouble-codes", Place.Cylinder(4), "coded", aspect: "codes-misfire"),
            ABench.Finding("trouble-codes", Place.Cylinder(1), "not-coded", aspect: "codes-misfire")));
        var cell = sheet.Cell(new CellKey("trouble-codes", Place.Engine))!;
        Assert.Equal(("P0304", "misfire code, cylinder 4", false), (cell.Figure, cell.Mark.Word, cell.IsFilled));
    }

    [Fact]
    public void That_no_codes_are_stored_is_a_reading_too()
    {
        var order = ABench.Order(ABench.Reading("trouble-codes", Place.Engine, ("codes", FieldValue.Null)));
        Assert.Equal("No codes are stored", Sheet(order, ABench.Assessment()).Cell(new CellKey("trouble-codes", Place.Engine))!.Mark.Word);
    }

    [Fact]
    public void An_engines_cell_covers_every_column_and_shows_the_figure_that_was_judged()
    {
        var order = ABench.Order(ABench.Reading("fuel-pressure", Place.Engine, ("kPa", FieldValue.Of(385)), ("afterFiveMinutesKPa", FieldValue.Of(60))));
        var sheet = SheetViews.Of(
            order, ABench.V6, ABench.Assessment(ABench.Finding("fuel-pressure", Place.Engine, "bleeds-down", measure: 385)), Knowledge.Shipped, ABench.Metric, Stage.Before);
        var cell = Assert.Single(Row(sheet, "fuel-pressure:Engine").Cells);
        Assert.Equal((6, "385", "bleeds down", "hatch"), (cell.Span, cell.Figure, cell.Mark.Word, cell.Mark.Pattern));
        Assert.Equal("kPa", Row(sheet, "fuel-pressure:Engine").Unit);
    }

    [Fact]
    public void The_conditions_of_a_road_check_stand_in_one_cell()
    {
        var drive = ABench.Reading("road-check", Place.Engine, ("conditions", FieldValue.Of("cold", "wet")));
        Assert.Equal("misfires cold, misfires in the wet", Judged(drive).Mark.Word);

        var quiet = Judged(ABench.Reading("road-check", Place.Engine, ("conditions", FieldValue.Null)));
        Assert.Equal(("It did not misfire during the drive", "solid", 1), (quiet.Mark.Word, quiet.Mark.Pattern, quiet.Trials));
    }

    [Fact]
    public void What_blocking_the_EGR_did_is_a_word_in_the_engines_cell()
    {
        Assert.Equal(("gone", "hatch"), MarkOf(Judged(ABench.Reading("egr-block", Place.Engine, ("misfireGone", FieldValue.Of("yes"))))));
        Assert.Equal(("stays", "solid"), MarkOf(Judged(ABench.Reading("egr-block", Place.Engine, ("misfireGone", FieldValue.Of("no"))))));
    }

    private static (string Word, string Pattern) MarkOf(SheetCell cell) => (cell.Mark.Word, cell.Mark.Pattern);

    private static SheetCell Judged(Reading reading)
    {
        var order = ABench.Order(reading);
        var assessment = Diagnostician.Assess(new Workup { Engine = ABench.V6, Readings = [reading] }, Knowledge.Shipped);
        return Sheet(order, assessment).Cell(new CellKey(reading.Test, reading.At))!;
    }

    [Fact]
    public void A_corrected_reading_counts_no_more_but_stays_in_the_history()
    {
        var wrong = ABench.Stored(ABench.Compression(4, 62), 1, superseded: true);
        var right = ABench.Stored(ABench.Compression(4, 1100), 2, supersedes: wrong.Id);
        var order = ABench.Order(wrong, right);
        var cell = new CellKey("compression-dry", Place.Cylinder(4));
        Assert.Equal(1, Sheet(order, ABench.Assessment()).Cell(cell)!.Trials);
        var history = CellHistory.Of(cell, order, ABench.Test("compression-dry"), null, ABench.Metric, ABench.Clock);
        Assert.Equal([("62 kPa", "corrected"), ("1,100 kPa", "")], history.Readings.Select(r => (r.Text, r.Fate)));
        Assert.Equal([right.Id], history.Counting.Select(r => r.Id));
    }

    [Fact]
    public void A_reading_taken_back_leaves_the_cell_empty_and_is_told_from_a_correction()
    {
        var wrong = ABench.Stored(ABench.Compression(4, 62), 1, superseded: true);
        var order = ABench.Order(wrong, ABench.Stored(ABench.Compression(4, 62), 2, supersedes: wrong.Id, withdrawn: true));
        var cell = new CellKey("compression-dry", Place.Cylinder(4));
        Assert.False(Sheet(order, ABench.Assessment()).Cell(cell)!.IsFilled);
        Assert.Equal(["taken back"], CellHistory.Of(cell, order, ABench.Test("compression-dry"), null, ABench.Us, ABench.Clock).Readings.Select(r => r.Fate));
    }

    [Fact]
    public void Only_cells_that_look_different_are_marked_as_changed()
    {
        var before = View(ABench.Order(ABench.Compression(1, 1100)));
        var after = View(ABench.Order(ABench.Compression(1, 1100), ABench.Compression(3, 1120)));
        Assert.Equal([new CellKey("compression-dry", Place.Cylinder(3))], SheetChanges.Between(before, after));
        Assert.Empty(SheetChanges.Between(null, after));
    }

    [Fact]
    public void A_cause_lists_the_readings_for_and_against_it()
    {
        var assessment = ABench.Assessment(ABench.Finding("spark-output", Place.Cylinder(4), "none")) with
        {
            Causes =
            [
                ABench.Coil(4, 0.83,
                    new Effect("spark-output", "spark-output", Place.Cylinder(4), "none", 5.9, "A failed coil makes a weak spark or none."),
                    new Effect("coil-swap", "coil-swap", Place.Cylinder(4), "stays", -3.4, "A failed coil takes the misfire along.")),
            ],
        };
        var cause = CauseViews.Of(assessment, Knowledge.Shipped).Causes[0];
        Assert.Equal(("Ignition coil failed", "very likely", "83 %", "about 1 in 32"), (cause.Title, cause.Word, cause.Percent, cause.Prior));
        Assert.Equal("Spark output, cylinder 4: none", cause.For.Single().Found);
        Assert.Equal("speaks strongly against it", cause.Against.Single().Weight);
    }

    [Fact]
    public void What_was_read_after_the_repair_says_so_among_the_reasons()
    {
        var effect = new Effect("misfire-counts", "misfire-counts", Place.Cylinder(4), "clean", -3.9, "The trouble is gone since the repair, which does not mend this.") { Stage = Stage.After };
        var cause = CauseViews.Of(ABench.Assessment() with { Causes = [ABench.Coil(4, 0.02, effect)] }, Knowledge.Shipped).Causes[0];
        Assert.Equal("After the repair: Misfire counts, cylinder 4: clean", cause.Against.Single().Found);
    }

    [Fact]
    public void Before_the_first_reading_the_list_says_that_it_knows_nothing_of_this_car() =>
        Assert.Contains("says nothing of this car", CauseViews.Of(ABench.Assessment(), Knowledge.Shipped).Remark, StringComparison.Ordinal);

    [Fact]
    public void A_round_over_all_cylinders_starts_at_the_first_and_a_test_at_one_place_there()
    {
        var steps = new StepViews(ABench.V6, Knowledge.Shipped);
        var round = steps.Of(Advice("power-balance", Place.Engine));
        Assert.Equal(("Power balance", "Each cylinder", true), (round.What, round.Where, round.Round));
        Assert.Equal(Place.Cylinder(1), round.Start!.Value.At);
        var single = steps.Of(Advice("spark-output", Place.Cylinder(4)));
        Assert.Equal(("Cylinder 4", false, "about 5 minutes, spark tester"), (single.Where, single.Round, $"{single.Minutes}, {single.Tools}"));
        Assert.NotEmpty(single.HowTo);
        Assert.NotEmpty(single.Cautions);
    }

    [Fact]
    public void A_proven_conclusion_waits_to_be_taken_over_and_is_not_offered_twice()
    {
        var conclusion = new Conclusion(
            [new ProvenCause("coil-failed", Place.Cylinder(4))],
            [new ProofReading("coil-swap", Place.Cylinder(4), "follows", "The misfire moved with the coil.")],
            new Repair("Replace the ignition coil of cylinder 4.", [new RepairPart("Ignition coil", 1, Place.Cylinder(4), "", false)], 20, ["power-balance"]));
        var assessment = ABench.Assessment() with { Conclusion = conclusion, Causes = [ABench.Coil(4, 0.97)] };
        var proven = View(ABench.Order(Array.Empty<Reading>()), assessment).Finding;
        Assert.Equal(["Ignition coil failed, cylinder 4"], proven.Proven!.Causes);
        Assert.Equal(("Coil swapped, cylinder 4: follows the coil", "The misfire moved with the coil."), proven.Proven.Proof.Single());
        Assert.Equal(["1 Ignition coil, cylinder 4"], proven.Proven.Parts);
        Assert.Empty(proven.Unproven);

        var taken = new OrderFinding { Conclusion = conclusion, Probability = 0.97, At = ABench.Noon.UtcDateTime, By = "Lena" };
        var view = View(ABench.Order(Array.Empty<Reading>()) with { Finding = taken }, assessment);
        Assert.Null(view.Finding.Proven);
        Assert.EndsWith("by Lena", view.Finding.TakenWhen, StringComparison.Ordinal);
        Assert.True(view.HasAfter);
    }

    [Fact]
    public void Without_proof_the_repair_and_the_checks_come_from_the_cause_and_say_that_it_is_not_proven()
    {
        var assessment = ABench.Assessment() with { Causes = [ABench.Coil(4, 0.6)] };
        var open = View(ABench.Order(Array.Empty<Reading>()), assessment);
        var conclusion = FindingViews.WithoutProof(open.Finding.Unproven.Single(), ABench.V6, Knowledge.Shipped);
        Assert.Empty(conclusion.Proof);
        var taken = new OrderFinding { Conclusion = conclusion, Probability = 0.6, UnprovenReason = "Customer asks for it.", At = ABench.Noon.UtcDateTime, By = "" };
        var view = View(ABench.Order(Array.Empty<Reading>()) with { Finding = taken }, assessment);
        Assert.Equal(("Repair", "Taken over without proof."), (view.Steps[0].What, view.Steps[0].Why));
        Assert.StartsWith("The cause is not proven.", view.Steps[0].Cautions[0], StringComparison.Ordinal);
        Assert.Equal(conclusion.Repair.Check, view.Then.Select(s => s.Start!.Value.Test));
        Assert.All(view.Then, s => Assert.Equal(Stage.After, s.Start!.Value.Stage));
        Assert.Equal("Customer asks for it.", view.Finding.UnprovenReason);

        // Once the order stands at the repair check, the checks are what to do next.
        var repaired = View(ABench.Order(Array.Empty<Reading>()) with { Finding = taken, Stage = OrderStage.RepairCheck }, assessment);
        Assert.Equal(conclusion.Repair.Check, repaired.Steps.Select(s => s.Start!.Value.Test));

        // A check that cannot be taken is none; where none is left, the repair that is done does not come back.
        var (first, rest) = (conclusion.Repair.Check[0], conclusion.Repair.Check[1..]);
        Assert.Equal(rest, Repaired([first]).Steps.Select(s => s.Start!.Value.Test));
        var none = Repaired(conclusion.Repair.Check);
        Assert.Empty(none.Steps);
        Assert.Contains("Left out, as they cannot be taken: ", none.Done, StringComparison.Ordinal);

        WorkupView Repaired(IEnumerable<string> barred) => View(
            ABench.Order(Array.Empty<Reading>()) with
            {
                Finding = taken, Stage = OrderStage.RepairCheck,
                Obstacles = [.. barred.Select(t => new StoredObstacle { Id = Guid.NewGuid(), Obstacle = new(t, Place.Engine), By = "Rosa", SaidAt = ABench.Noon.UtcDateTime })],
            },
            assessment);
    }

    [Fact]
    public void Readings_after_a_repair_name_the_cylinders_that_nobody_has_read_yet()
    {
        var read = ABench.Compression(1, 1100) with { Stage = Stage.After };
        var assessment = ABench.Assessment();
        assessment = assessment with { Cylinders = [.. assessment.Cylinders.Select(c => c.Cylinder is 2 or 4 ? c : c with { State = CylinderCondition.Contributing })] };
        Assert.Contains("Not read yet: cylinder 2, cylinder 4.", View(ABench.Order(read), assessment).Done, StringComparison.Ordinal);
    }

    [Fact]
    public void The_heading_warns_of_a_flashing_lamp_and_of_spent_time()
    {
        var order = ABench.Order(ABench.Compression(1, 1100), ABench.Compression(3, 1100)) with
        {
            Concern = new Concern { Lamp = Lamp.Flashing, Codes = ["P0300"] }, AuthorisedMinutes = 5,
        };
        var header = HeaderView.Of(order, ABench.Assessment(), Knowledge.Shipped);
        Assert.Equal((true, "Lamp flashing", "P0300", true), (header.Flashing, header.LampText, header.Codes, header.OverTime));
    }

    [Fact]
    public void A_cylinder_tells_what_was_found_there_wherever_it_was_read()
    {
        var view = View(ABench.Order(Array.Empty<Reading>()), ABench.Assessment(
            ABench.Finding("trouble-codes", Place.Cylinder(4), "coded", "P0304 names it.", aspect: "codes-misfire"),
            ABench.Finding("spark-output", Place.Cylinder(4), "none"),
            ABench.Finding("spark-output", Place.Cylinder(1), "strong")));
        var cylinder = CylinderView.Of(4, view, Knowledge.Shipped);
        Assert.Equal(["Trouble codes: misfire code", "Spark output: none"], cylinder.Readings.Select(r => r.Found));
        Assert.Equal([Place.Engine, Place.Cylinder(4)], cylinder.Readings.Select(r => r.Key.At));
    }

    [Fact]
    public void A_journalled_reading_comes_back_as_it_was_entered()
    {
        var order = Guid.NewGuid();
        var added = new NewReading
        {
            Id = Guid.NewGuid(), SupersedesId = Guid.NewGuid(), Withdrawn = true,
            Reading = ABench.Reading("leak-down", Place.Cylinder(4), ("percent", FieldValue.Of(8.5)), ("hear", FieldValue.Of("intake"))) with
            {
                Stage = Stage.After, Warm = true, TakenAt = ABench.Noon, By = "Lena", Note = "Hissing.",
            },
        };
        var payload = Web.Orders.CommandJson.Write(SaveReading.Of(order, added));
        var back = System.Text.Json.JsonSerializer.Deserialize<SaveReading>(payload, JsonWeb)!;
        var reading = back.ToReading(added.Id);
        Assert.Equal((order, added.Id, added.SupersedesId, true), (back.Order, reading.Id, reading.SupersedesId, reading.Withdrawn));
        Assert.Equal(added.Reading with { Value = reading.Reading.Value }, reading.Reading);
        Assert.Equal((8.5, "intake"), (reading.Reading.Value.Number("percent"), reading.Reading.Value.Text("hear")));
    }

    private static readonly System.Text.Json.JsonSerializerOptions JsonWeb = new(System.Text.Json.JsonSerializerDefaults.Web)
    {
        Converters = { new System.Text.Json.Serialization.JsonStringEnumConverter() },
    };

    private static NextStepAdvice Advice(string test, Place at) => new()
    {
        Test = test, At = at, Minutes = 5, Because = "Because.", Cautions = ABench.Test(test).Cautions,
    };

    private static WorkupView View(RepairOrder order, Assessment? assessment = null) =>
        WorkupView.Of(order, ABench.V6, assessment ?? ABench.Assessment(), Knowledge.Shipped, Shop, ABench.Clock);

    private static SheetView Sheet(RepairOrder order, Assessment assessment) =>
        SheetViews.Of(order, ABench.V6, assessment, Knowledge.Shipped, ABench.Us, Stage.Before);

    private static SheetRow Row(SheetView sheet, string key) => sheet.Rows.First(r => r.Key == key);
}
