using ShopDiag.Diagnosis;
using ShopDiag.Diagnosis.Engines;
using ShopDiag.Reports.Models;

namespace ShopDiag.Reports.Tests;

public sealed class BenchSheetTests
{
    [Fact]
    public void A_filled_sheet_says_every_value_of_its_model()
    {
        var model = SamplesOfMoney.Filled(Samples.VSix, "V6, coil on plug");
        string[] expected =
        [
            "1042", "5/31/2026", model.Technician, model.Concern, model.Vehicle.Description, model.Vehicle.Vin, "V6, coil on plug", "1-2-3-4-5-6", "1 and 4, 2 and 5, 3 and 6",
            .. model.Tests.SelectMany(t => t.Readings.SelectMany(r => new[] { r.Text, r.Outcome }).Append(t.Title).Append(t.Hint)), .. model.Cautions, model.Notes, "Cylinders 1 and 3: moved",
        ];

        using var pdf = Read(model);

        Assert.All(expected, value => Assert.Contains(value, pdf.Text, StringComparison.Ordinal));
        Assert.Equal("Cylinder sheet, repair order 1042", pdf.Information.Title);
    }

    [Fact]
    public void A_blank_sheet_has_a_row_for_each_test_and_lines_for_the_rest()
    {
        var model = SamplesOfMoney.Blank(Samples.InlineFour, "Inline four");
        using var pdf = Read(model);

        Assert.Equal(model.Tests.Select(t => Named(t)), Rows(pdf).Select(r => r.Children[0].Text));
        Assert.All(Rows(pdf), row => Assert.All(row.Children.Skip(1), cell => Assert.True(cell.Text is "" or "Bank 1:", cell.Text)));
        foreach (var label in new[] { "Repair order", "Date", "Technician", "Vehicle", "VIN", "Concern" })
        {
            Assert.Contains($"{label}: ____", pdf.Text, StringComparison.Ordinal);
        }

        Assert.Equal("Cylinder sheet, Inline four", pdf.Information.Title);
    }

    [Fact]
    public void What_is_not_possible_is_marked_in_its_cells_and_told_below_the_table()
    {
        var model = SamplesOfMoney.Blank(Samples.VSix, "V6") with
        {
            Tests =
            [
                new("Compression", "psi", Diagnosis.BenchTests.TestScope.Cylinder, [new(Place.Cylinder(3), "", "not possible", Verdict.Neutral)]),
                new("Leak-down", "%", Diagnosis.BenchTests.TestScope.Cylinder, [new(Place.Engine, "", "not possible on this car", Verdict.Neutral)]),
            ],
            NotPossible = ["Compression, cylinder 3: thread stripped (Rosa)"],
        };
        using var pdf = Read(model);

        var rows = Rows(pdf).Select(r => r.Children.Skip(1).Select(c => c.Text.Trim()).ToArray()).ToArray();
        Assert.Equal("not possible", Assert.Single(rows[0], t => t.Length > 0));
        Assert.Equal(6, rows[0].Length);
        Assert.Equal(["not possible on this car"], rows[1]);
        Assert.Contains("Not possible on this car", pdf.Text, StringComparison.Ordinal);
        Assert.Contains("Compression, cylinder 3: thread stripped (Rosa)", pdf.Text, StringComparison.Ordinal);
        using var without = Read(model with { NotPossible = [], Tests = [] });
        Assert.DoesNotContain("Not possible on this car", without.Text, StringComparison.Ordinal);
    }

    [Fact]
    public void Each_scope_has_its_own_cells_to_write_in()
    {
        using var pdf = Read(SamplesOfMoney.Blank(Samples.VSix, "V6") with
        {
            Tests = [new("Spark", "", Diagnosis.BenchTests.TestScope.Cylinder, []), new("Trims", "", Diagnosis.BenchTests.TestScope.Bank, []), new("Voltage", "", Diagnosis.BenchTests.TestScope.Engine, [])],
        });

        Assert.Equal([[1, 1, 1, 1, 1, 1], [3, 3], [6]], Rows(pdf).Select(r => r.Children.Skip(1).Select(c => c.ColumnSpan).ToArray()));
    }

    public static TheoryData<string, bool> Layouts => new() { { "I4", false }, { "V6", false }, { "V8", true }, { "V12", true }, { "V16", true } };

    [Theory]
    [MemberData(nameof(Layouts))]
    public void More_than_six_cylinders_lie_on_the_long_side(string layout, bool landscape)
    {
        foreach (var size in new[] { PaperSize.Letter, PaperSize.A4 })
        {
            using var pdf = new ReadPdf(Papers.BenchSheet(SamplesOfMoney.Blank(EngineOf(layout), layout), size));
            Assert.All(pdf.Pages, page => Assert.Equal(landscape, page.Width > page.Height));
        }
    }

    [Theory]
    [MemberData(nameof(Layouts))]
    public void Cylinders_stand_across_in_bank_order(string layout, bool landscape)
    {
        var engine = EngineOf(layout);
        using var pdf = Read(SamplesOfMoney.Blank(engine, layout));

        Assert.Equal(landscape, pdf.Pages[0].Width > 700);
        Assert.Equal(engine.Banks.SelectMany(b => b).Select(c => $"Cyl. {c}"), pdf.Root.Tagged("TH").Select(h => h.Text).Where(t => t.StartsWith("Cyl.", StringComparison.Ordinal)));
    }

    [Fact]
    public void A_blank_sheet_of_twelve_cylinders_is_one_table()
    {
        using var pdf = Read(SamplesOfMoney.Blank(AllPapers.VTwelve, "V12"));

        Assert.Single(pdf.Root.Tagged("Table"), t => t.Children[0].Text.StartsWith("TestCyl. 1", StringComparison.Ordinal) && t.Children[0].Children.Count == 13);
    }

    [Fact]
    public void The_plan_is_drawn_without_words_about_the_cylinders()
    {
        using var pdf = Read(SamplesOfMoney.Blank(Samples.VSix, "V6"));

        Assert.Equal($"The engine seen from above, its front on the left. {EnginePlan.Of(Samples.VSix).InWords}.", Assert.Single(pdf.Root.Tagged("Figure")).Alternative);
    }

    [Fact]
    public void An_engine_without_companions_says_so()
    {
        using var pdf = Read(SamplesOfMoney.Blank(Samples.Engine("I3", [1, 3, 2], [1, 2, 3]), "Inline three"));

        Assert.Contains("Companions: none", pdf.Text, StringComparison.Ordinal);
    }

    [Fact]
    public void A_sheet_without_an_engine_is_a_broken_promise() =>
        Assert.Throws<ArgumentException>(() => SamplesOfMoney.Blank(Samples.VSix, "V6") with { Vehicle = new() });

    private static string Named(BenchSheetTest test) => test.Hint.Length > 0 ? $"{test.Title} {test.Hint}" : test.Title;

    private static IEnumerable<ReadPdf.Element> Rows(ReadPdf pdf) =>
        pdf.Root.Tagged("Table").Where(t => t.Children[0].Children[0].Text == "Test").SelectMany(t => t.Children.Skip(1));

    private static Engine EngineOf(string layout) => layout switch
    {
        "I4" => Samples.InlineFour,
        "V6" => Samples.VSix,
        "V8" => Samples.VEight,
        "V12" => AllPapers.VTwelve,
        "V16" => AllPapers.VSixteen,
        _ => throw new ArgumentOutOfRangeException(nameof(layout), layout, null),
    };

    private static ReadPdf Read(BenchSheet model) => new(Papers.BenchSheet(model, PaperSize.Letter));
}
