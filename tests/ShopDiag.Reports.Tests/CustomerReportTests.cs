using System.Globalization;
using ShopDiag.Diagnosis;
using ShopDiag.Diagnosis.Workups;
using ShopDiag.Reports.Models;

namespace ShopDiag.Reports.Tests;

public sealed class CustomerReportTests
{
    [Fact]
    public void Every_value_of_the_model_stands_on_the_paper()
    {
        var model = Samples.Large(Samples.VSix, "V6, coil on plug") with
        {
            Lamp = Lamp.Steady, StillOpen = "never shown beside a finding",
        };
        string[] expected =
        [
            model.Shop.Name, "14 Quarry Lane, Millbrook, OH 45000", model.Shop.Phone, "1042", "5/31/2026", model.CustomerName,
            model.Vehicle.Description, "2014", model.Vehicle.Vin, model.Plate, model.Odometer, model.Vehicle.EngineTitle, model.Concern,
            .. model.Tests.SelectMany(t => new[] { t.Title, t.Plainly }.Concat(t.Readings.SelectMany(r => new[] { r.Text, r.Outcome }))),
            .. model.Cylinders.Select(c => c.Word), .. model.Charts.SelectMany(c => c.Bars.Select(b => b.Text).Append(c.Title)),
            .. model.Findings.SelectMany(f => f.Proof.Append(f.Cause).Append(f.Place).Append(f.Sentence).Append(f.Sureness)), "(97 %)",
            model.Proposal!.Summary, "1 × Ignition coil (cylinder 3)", "1 × Spark plug (cylinder 3), replaced together with it", "about 35 minutes",
            .. model.IfItWaits, .. model.Cautions, "Name", "Date", "Signature",
        ];

        var text = Text(model);

        Assert.All(expected, value => Assert.Contains(value, text, StringComparison.Ordinal));
    }

    [Fact]
    public void The_sections_follow_in_the_order_of_the_talk_at_the_counter()
    {
        using var pdf = Read(Samples.Simple);

        Assert.Equal(
            ["What you told us", "What we tested", "What we found", "What we propose", "If it waits", "Please note"],
            pdf.Root.Tagged("H2").Select(h => h.Text));
    }

    [Fact]
    public void Without_a_price_the_customer_is_sent_to_the_counter() =>
        Assert.Contains("Price: ask at the counter.", Text(Samples.Simple), StringComparison.Ordinal);

    [Fact]
    public void A_price_is_printed_as_it_was_written()
    {
        var text = Text(Samples.Simple with { Proposal = Samples.Simple.Proposal! with { Price = "$184.20 with tax" } });

        Assert.Contains("Price: $184.20 with tax", text, StringComparison.Ordinal);
        Assert.DoesNotContain("ask at the counter", text, StringComparison.Ordinal);
    }

    [Fact]
    public void While_the_cause_is_not_found_the_report_says_so_and_what_comes_next()
    {
        var text = Text(Samples.Simple with { Findings = [], Proposal = null, StillOpen = "We would measure the compression next." });

        Assert.Contains("We have not found the cause yet. We would measure the compression next.", text, StringComparison.Ordinal);
        Assert.Contains("No repair is proposed yet.", text, StringComparison.Ordinal);
        Assert.DoesNotContain("How we know", text, StringComparison.Ordinal);
    }

    [Fact]
    public void An_unproven_finding_is_called_so_with_its_reason()
    {
        var text = Text(Samples.Simple with { Findings = [Samples.Simple.Findings[0] with { UnprovenReason = "The coil could not be swapped." }] });

        Assert.Contains("Not proven: this is our best judgement. The coil could not be swapped.", text, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(Lamp.Flashing, true)]
    [InlineData(Lamp.Steady, false)]
    [InlineData(Lamp.Off, false)]
    [InlineData(Lamp.Unknown, false)]
    public void Only_a_flashing_lamp_brings_the_advice_on_driving(Lamp lamp, bool advised)
    {
        var text = Text(Samples.Simple with { Lamp = lamp, IfItWaits = [] });

        Assert.Equal(advised, text.Contains("While the warning lamp flashes,", StringComparison.Ordinal));
        Assert.Equal(advised, text.Contains("dry grass", StringComparison.Ordinal));
        Assert.Equal(advised, text.Contains("If it waits", StringComparison.Ordinal));
        Assert.Equal(lamp is not Lamp.Unknown, text.Contains("Engine warning lamp:", StringComparison.Ordinal));
    }

    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public void A_general_limit_that_decided_a_reading_is_owned_up_to(bool used) =>
        Assert.Equal(used, Text(Samples.Simple with { DefaultLimitUsed = used }).Contains("general limits of the trade", StringComparison.Ordinal));

    [Theory]
    [InlineData("en-US", "5/31/2026", "en-US")]
    [InlineData("en-GB", "31/05/2026", "en-GB")]
    [InlineData("de-DE", "31.05.2026", "en")]
    [InlineData("", "2026-05-31", "en")]
    public void Dates_follow_the_shop_and_the_language_stays_that_of_the_words(string culture, string date, string language)
    {
        using var pdf = Read(Samples.Simple with { Culture = CultureInfo.GetCultureInfo(culture) });

        Assert.Contains($"Date: {date}", pdf.Text, StringComparison.Ordinal);
        Assert.Contains($"/Lang({language})", pdf.Raw, StringComparison.Ordinal);
    }

    [Fact]
    public void The_culture_of_the_server_leaves_no_trace_on_the_paper()
    {
        var expected = Text(Samples.Simple);
        var before = CultureInfo.CurrentCulture;
        try
        {
            CultureInfo.CurrentCulture = CultureInfo.GetCultureInfo("ar-SA");
            Assert.Equal(expected, Text(Samples.Simple));
        }
        finally
        {
            CultureInfo.CurrentCulture = before;
        }
    }

    [Fact]
    public void A_reading_of_a_bank_or_the_engine_spans_the_cylinders_it_speaks_for()
    {
        using var pdf = Read(Samples.Large(Samples.VSix, "V6"));
        var rows = pdf.Root.Tagged("TR").ToDictionary(r => r.Children[0].Text.Split(' ')[0] + r.Children.Count, r => r);

        Assert.Equal([("Bank 1: +1.5 %, normal", 3), ("Bank 2: +2.5 %, normal", 3)], rows["Fuel3"].Children.Skip(1).Select(c => (c.Text, c.ColumnSpan)));
        Assert.Equal([("P0305, names cylinder 5", 6)], rows["Trouble2"].Children.Skip(1).Select(c => (c.Text, c.ColumnSpan)));
    }

    [Fact]
    public void The_columns_stand_in_bank_order_as_the_cylinders_do_in_the_drawing()
    {
        using var pdf = Read(Samples.Large(Samples.VSix, "V6"));

        Assert.Equal(
            ["Test", "Cylinder 1", "Cylinder 3", "Cylinder 5", "Cylinder 2", "Cylinder 4", "Cylinder 6"],
            pdf.Root.Tagged("TH").Where(h => h.Scope == "Column").Select(h => h.Text));
    }

    [Theory]
    [InlineData("contributing")]
    [InlineData("inconclusive")]
    public void Outcomes_stay_in_one_piece_in_the_narrowest_columns(string outcome)
    {
        var readings = Samples.VSix.Cylinders.Select(c => new ReadingOnPaper(Place.Cylinder(c), "41 rpm", outcome, Verdict.Bad));
        using var pdf = new ReadPdf(Papers.CustomerReport(Samples.Simple with { Vehicle = Samples.Car(Samples.VSix, "V6"), Tests = [new("Power balance", "", [.. readings])] }, PaperSize.A4));

        Assert.Equal(7, pdf.Text.Split(outcome).Length);
    }

    [Fact]
    public void A_reading_at_a_place_that_the_engine_does_not_have_is_still_printed()
    {
        var text = Text(Samples.Simple with { Tests = [new("Spark output", "", [new(Place.Cylinder(9), "", "weak", Verdict.Bad), new(Place.Pair(1, 4), "0.6 ohm", "open", Verdict.Bad)])] });

        Assert.Contains("Cylinder 9: weak", text, StringComparison.Ordinal);
        Assert.Contains("Cylinders 1 and 4: 0.6 ohm, open", text, StringComparison.Ordinal);
    }

    [Fact]
    public void Several_readings_of_one_cylinder_are_all_printed()
    {
        var text = Text(Samples.Simple with { Tests = [new("Compression", "", [new(Place.Cylinder(1), "131 psi", "good", Verdict.Good), new(Place.Cylinder(1), "97 psi", "low", Verdict.Bad), new(Place.Cylinder(2), "140 psi", "good", Verdict.Good)])] });

        Assert.Contains("131 psi good 97 psi low", text, StringComparison.Ordinal);
    }

    [Fact]
    public void Without_an_engine_the_readings_are_listed_by_place_and_nothing_is_drawn()
    {
        using var pdf = Read(Samples.Simple with { Vehicle = Samples.Simple.Vehicle with { Engine = null } });

        Assert.Empty(pdf.Root.Tagged("Figure"));
        Assert.Contains("Cylinder 3 412, misfiring", pdf.Text, StringComparison.Ordinal);
    }

    [Fact]
    public void An_empty_order_still_makes_a_paper_with_room_to_sign()
    {
        using var pdf = Read(new CustomerReport { Shop = new("", "", ""), OrderNumber = 1001, Date = new DateOnly(2026, 1, 2), Vehicle = new() });

        Assert.Single(pdf.Pages);
        Assert.Contains("Nothing was written down.", pdf.Text, StringComparison.Ordinal);
        Assert.Contains("Nothing has been tested yet.", pdf.Text, StringComparison.Ordinal);
        Assert.Contains("Signature", pdf.Text, StringComparison.Ordinal);
    }

    [Fact]
    public void A_missing_model_is_a_broken_promise() => Assert.Throws<ArgumentNullException>(() => Papers.CustomerReport(null!, PaperSize.A4));

    private static ReadPdf Read(CustomerReport model) => new(Papers.CustomerReport(model, PaperSize.Letter));

    private static string Text(CustomerReport model)
    {
        using var pdf = Read(model);
        return pdf.Text;
    }
}
