using ShopDiag.Reports.Models;

namespace ShopDiag.Reports.Tests;

public sealed class InvoiceTests
{
    [Fact]
    public void Every_value_of_the_model_stands_on_the_paper()
    {
        var model = SamplesOfMoney.Invoice;
        string[] expected =
        [
            model.Shop.Name, model.InvoiceNumber, "1042", "6/2/2026", model.CustomerName, "7 Ferry Street, Millbrook, OH 45000", model.Vehicle.Description, model.Vehicle.Vin,
            model.Vehicle.EngineTitle, model.Plate, model.Odometer, "Concern: " + model.Concern, "Cause: " + model.Cause, "Correction: " + model.Correction,
            .. model.Lines.SelectMany(l => new[] { l.Text, l.Note, l.Quantity, l.UnitPrice, l.Discount, l.TaxCode, l.Amount }),
            .. model.Cores.SelectMany(c => new[] { c.Part, c.State, c.Charge, c.Credit }),
            "Subtotal $221.45 Discounts -$5.00 A: sales tax 7.25 % of $128.45 $9.31 Total $225.76 Paid: card, June 2 $200.00 To pay $25.76",
            model.RoundingNote, "by phone, 555-0119, June 1, 2026, 3:05 p.m.", "The repair held. Otis Fairweather, June 2, 2026.",
            .. model.RepairCheck!.Notes, .. model.RepairCheck.Lines.SelectMany(l => new[] { l.Test, l.Where, l.Before, l.After, l.Outcome }), model.WarrantyText, model.ReturnedPartsNote,
        ];

        using var pdf = Read(model);

        Assert.All(expected, value => Assert.Contains(value, pdf.Text, StringComparison.Ordinal));
        Assert.DoesNotContain("p.m..", pdf.Text, StringComparison.Ordinal);
        Assert.Equal("Invoice, repair order 1042", pdf.Information.Title);
    }

    [Fact]
    public void The_sections_are_the_bookmarks()
    {
        using var pdf = Read(SamplesOfMoney.Invoice);

        Assert.Equal(
            ["0 Invoice", "1 Concern, cause and correction", "1 Work and parts", "1 What you approved", "1 Repair check", "1 Replaced parts", "1 Warranty"],
            pdf.Bookmarks);
    }

    [Fact]
    public void What_is_not_there_leaves_no_heading_behind()
    {
        using var pdf = Read(new Invoice { Shop = Samples.Shop, OrderNumber = 1042, Date = new DateOnly(2026, 6, 2), Vehicle = new() });

        Assert.Equal(["0 Invoice", "1 Work and parts"], pdf.Bookmarks);
        Assert.Contains("No work and no parts are charged.", pdf.Text, StringComparison.Ordinal);
    }

    [Fact]
    public void A_check_that_did_not_hold_is_told_from_one_that_was_not_taken_again()
    {
        using var pdf = Read(SamplesOfMoney.Invoice);
        var rows = pdf.Root.Tagged("Table").Single(t => t.Children[0].Text.StartsWith("TestWhereBeforeAfter", StringComparison.Ordinal)).Children.Skip(1).Select(r => r.Children.Select(c => c.Text).ToArray());

        Assert.Equal(["Compression", "Cylinder 3", "131 psi", "–", "not taken again"], rows.ElementAt(2));
        Assert.Equal(["Road check", "Whole engine", "misfires", "misfires once", "look again"], rows.ElementAt(3));
    }

    [Fact]
    public void A_check_without_readings_says_so()
    {
        using var pdf = Read(SamplesOfMoney.Invoice with { RepairCheck = new() });

        Assert.Contains("No test was taken again.", pdf.Text, StringComparison.Ordinal);
    }

    [Fact]
    public void Three_hundred_lines_are_all_there()
    {
        using var pdf = Read(Hostile.BillOfLines(300));

        Assert.All(Enumerable.Range(1, 300), i => Assert.Contains($"Line number {i} 1 $1.00 A ${i}.00", pdf.Text, StringComparison.Ordinal));
    }

    private static ReadPdf Read(Invoice model) => new(Papers.Invoice(model, PaperSize.Letter));
}
