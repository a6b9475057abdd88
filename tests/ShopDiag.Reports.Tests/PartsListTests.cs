using ShopDiag.Diagnosis;
using ShopDiag.Diagnosis.Workups;
using ShopDiag.Reports.Models;

namespace ShopDiag.Reports.Tests;

public sealed class PartsListTests
{
    [Fact]
    public void Every_value_of_the_model_stands_on_the_paper()
    {
        var model = Samples.SimpleParts;
        string[] expected =
        [
            model.Shop.Name, "1042", "5/31/2026", model.Vehicle.Description, "2014", model.Vehicle.Vin, model.Vehicle.EngineTitle, "1-2-3-4-5-6",
            "Wanted by: " + model.WantedBy, .. model.Parts.Select(p => p.Part), .. model.Parts.Select(p => p.MustMatch), "6",
        ];

        var text = Text(model);

        Assert.All(expected, value => Assert.Contains(value, text, StringComparison.Ordinal));
    }

    public static TheoryData<Place, string> Positions => new()
    {
        { Place.Cylinder(4), "Cylinder 4, bank 2" },
        { Place.Bank(2), "Bank 2 (cylinders 2, 4, 6)" },
        { Place.Pair(3, 5), "Cylinders 3 and 5, bank 1" },
        { Place.Pair(1, 4), "Cylinders 1 (bank 1) and 4 (bank 2)" },
        { Place.Engine, "Whole engine" },
    };

    [Theory]
    [MemberData(nameof(Positions))]
    public void Each_part_says_where_it_goes(Place at, string words)
    {
        using var pdf = Read(Samples.SimpleParts with { Parts = [new("Part", 2, at, "as fitted", false)] });

        Assert.Equal(["1", "2", "Part", words, "as fitted"], pdf.Root.Tagged("TR").Last().Children.Select(c => c.Text));
    }

    [Fact]
    public void On_one_bank_the_bank_is_left_unsaid()
    {
        var text = Text(Samples.SimpleParts with { Vehicle = Samples.Simple.Vehicle, Parts = [Samples.Coil(3)] });

        Assert.Contains("Cylinder 3 Maker", text, StringComparison.Ordinal);
        Assert.DoesNotContain("bank", text, StringComparison.OrdinalIgnoreCase);
    }

    [Fact]
    public void What_goes_along_with_the_failed_part_is_marked()
    {
        using var pdf = Read(Samples.SimpleParts);
        var marked = pdf.Root.Tagged("TR").Where(r => r.Text.Contains("replace together", StringComparison.Ordinal)).Select(r => r.Children[0].Text);

        Assert.Equal(["2", "3", "4"], marked);
        Assert.Contains("Replace together: the part has not failed itself", pdf.Text, StringComparison.Ordinal);
    }

    [Fact]
    public void The_drawing_names_the_lines_that_go_to_each_cylinder()
    {
        using var pdf = Read(Samples.SimpleParts);
        var words = pdf.Root.Tagged("Figure").Single().Alternative;

        Assert.EndsWith(
            "cylinder 1: line 4; cylinder 2: lines 3, 4; cylinder 3: lines 4, 5; cylinder 4: lines 1, 2, 3, 4; cylinder 5: lines 4, 5; cylinder 6: lines 3, 4.",
            words, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("the owner asked for it", "Cause not proven: the owner asked for it")]
    [InlineData("", "Cause not proven: no reason was given.")]
    public void An_unproven_cause_is_said_in_bold_with_its_reason(string reason, string line)
    {
        using var pdf = Read(Samples.SimpleParts with { UnprovenReason = reason });

        Assert.Contains(line, pdf.Text, StringComparison.Ordinal);
        var letters = pdf.Pages[0].Letters.SkipWhile(l => l.Value != "C" || l.PointSize is < 9.9 or > 10.1).Take(10);
        Assert.All(letters, letter => Assert.Contains("Bold", letter.FontName, StringComparison.Ordinal));
    }

    [Fact]
    public void A_proven_cause_says_nothing_of_proof() =>
        Assert.DoesNotContain("proven", Text(Samples.SimpleParts), StringComparison.OrdinalIgnoreCase);

    [Fact]
    public void Without_a_wish_there_is_a_line_to_write_on() =>
        Assert.Contains("Wanted by: ____", Text(Samples.SimpleParts with { WantedBy = " " }), StringComparison.Ordinal);

    [Fact]
    public void No_parts_is_said_and_not_left_blank() =>
        Assert.Contains("No parts are needed.", Text(Samples.SimpleParts with { Parts = [] }), StringComparison.Ordinal);

    [Fact]
    public void The_model_has_no_place_for_the_customer_the_plate_or_a_price()
    {
        string[] forbidden = ["customer", "plate", "price", "cost", "owner", "email", "odometer", "concern"];
        var properties = new[] { typeof(PartsList), typeof(PartOnPaper), typeof(VehicleOnPaper), typeof(RepairPart) }.SelectMany(t => t.GetProperties());

        Assert.All(properties, p => Assert.DoesNotContain(forbidden, f => p.Name.Contains(f, StringComparison.OrdinalIgnoreCase)));
    }

    [Fact]
    public void Nothing_personal_or_priced_is_on_the_paper_of_a_real_order()
    {
        using var pdf = Read(SamplesOfMoney.PartsWithVendors with { Vehicle = Samples.Simple.Vehicle, Parts = Samples.Simple.Proposal!.Parts });

        Assert.All(
            [Samples.Simple.CustomerName, Samples.Simple.Plate, "Price", "$", "Customer"],
            personal => Assert.DoesNotContain(personal, pdf.Text + pdf.Information.Title + pdf.Metadata, StringComparison.OrdinalIgnoreCase));
    }

    [Fact]
    public void Lines_say_where_each_part_comes_from_and_how_far_it_has_come()
    {
        using var pdf = Read(SamplesOfMoney.PartsWithVendors);
        var rows = pdf.Root.Tagged("Table").Last().Children.Select(r => r.Children.Select(c => c.Text).ToArray()).ToArray();

        Assert.Equal(["Line", "Quantity", "Part", "Position", "Must match", "Vendor", "State"], rows[0]);
        Assert.Equal("Ignition coil no. 33-1042", rows[1][2]);
        Assert.Equal(["Millbrook Parts wanted by June 1, noon", "ordered May 31"], rows[1][5..]);
        Assert.Equal("Spark plug replace together fit together with line 1", rows[2][2]);
        Assert.Equal(["Millbrook Parts", "received"], rows[2][5..]);
        Assert.Equal(["–", "–"], rows[3][5..]);
        Assert.Equal(3, rows.Length - 1);
    }

    [Fact]
    public void Lines_are_drawn_where_they_go_as_parts_are()
    {
        using var pdf = Read(SamplesOfMoney.PartsWithVendors);

        Assert.Contains("cylinder 4: lines 1, 2, 3", pdf.Root.Tagged("Figure").Last().Alternative, StringComparison.Ordinal);
    }

    private static ReadPdf Read(PartsList model) => new(Papers.PartsList(model, PaperSize.A4));

    private static string Text(PartsList model)
    {
        using var pdf = Read(model);
        return pdf.Text;
    }
}
