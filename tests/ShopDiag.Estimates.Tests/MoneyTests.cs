using CsCheck;

namespace ShopDiag.Estimates.Tests;

public sealed class MoneyTests
{
    private static readonly Gen<EstimateLine> AnyLine =
        from kind in Gen.Enum<LineKind>()
        from choice in Gen.Enum<LineChoice>()
        from thousandths in Gen.Long[0, 10_000_000]
        from price in Gen.Long[0, 5_000_000]
        from tax in Gen.Int[0, 10_000]
        from discount in Gen.Int[0, 10_000]
        from core in Gen.Long[0, 50_000]
        from held in Gen.Bool
        from removed in Gen.Bool
        from key in Gen.Guid
        select new EstimateLine
        {
            Id = key, Kind = kind, Choice = choice, Thousandths = thousandths, PriceMinor = price, TaxBasisPoints = tax, DiscountBasisPoints = discount, CoreMinor = core, Unproven = held, Removed = removed,
        };

    // By hand: 3 pieces at 12.35 = 37.05; 10 % off = 3.705, rounded 3.71; 33.34 left; 8.25 % of it = 2.75055, rounded 2.75.
    [Fact]
    public void A_line_is_rounded_at_each_figure_halves_up()
    {
        var amounts = LineAmounts.Of(Samples.Line(LineKind.Part, 3000, 1235, tax: 825, discount: 1000));
        Assert.Equal((3705, 371, 3334, 275, 3609), (amounts.Gross, amounts.Discount, amounts.Net, amounts.Tax, amounts.Total));
    }

    // By hand: 0.35 hours at 119.90 = 41.965, rounded 41.97.
    [Fact]
    public void Hours_are_counted_in_thousandths() => Assert.Equal(4197, LineAmounts.Of(Samples.Line(LineKind.Labour, 350, 11990)).Gross);

    // By hand: parts 100.05 at 8.25 % = 8.254125, 8.25; labour 50.00 untaxed; fee 9.99 at 5 % = 0.4995, 0.50. Net 160.04, tax 8.75, total 168.79.
    [Fact]
    public void Tax_goes_by_line_and_by_rate()
    {
        var totals = EstimateTotals.Of([Samples.Line(LineKind.Part, 1000, 10005, 825), Samples.Line(LineKind.Labour, 500, 10000), Samples.Line(LineKind.Fee, 1000, 999, 500)]);
        Assert.Equal((10005, 5000, 999), (totals.Parts, totals.Labour, totals.Fees));
        Assert.Equal([new TaxTotal(500, 999, 50), new TaxTotal(825, 10005, 825)], totals.Taxes);
        Assert.Equal((16004, 16879), (totals.Net, totals.Total));
    }

    // By hand: two alternators' cores at 35.00 with a 7 % tax: (2 x 210.00 + 70.00) x 7 % = 34.30.
    [Fact]
    public void A_deposit_on_the_old_part_stands_by_itself_and_is_taxed_with_its_line()
    {
        var amounts = LineAmounts.Of(Samples.Line(LineKind.Part, 2000, 21000, 700, core: 3500));
        Assert.Equal((42000, 7000, 3430), (amounts.Gross, amounts.Core, amounts.Tax));
    }

    // Three lines of 0.10 at 5 % give three cents of tax, not one and a half: what rounding by line means, and what is stated on the paper.
    [Fact]
    public void Rounding_is_by_line_as_stated() =>
        Assert.Equal(3, EstimateTotals.Of(Enumerable.Range(1, 3).Select(k => Samples.Line(LineKind.Part, 1000, 10, 500, key: k))).Tax);

    [Fact]
    public void Totals_are_the_sums_of_the_rounded_lines_whatever_the_estimate() => AnyLine.Array[0, 40].Sample(lines =>
    {
        var totals = EstimateTotals.Of(lines);
        var counted = lines.Where(l => l.Counts).Select(LineAmounts.Of).ToList();
        Assert.Equal(counted.Sum(a => a.Total), totals.Total);
        Assert.Equal(totals.Total, totals.Parts + totals.Labour + totals.Fees + totals.Cores + totals.Tax);
        Assert.Equal(counted.Sum(a => a.Discount), totals.Discounts);
        Assert.Equal(totals.Taxes.Sum(t => t.Tax), counted.Sum(a => a.Tax));
    });

    [Fact]
    public void No_cent_is_lost_between_the_choices() => AnyLine.Array[0, 40].Sample(lines =>
    {
        var parts = Enum.GetValues<LineChoice>().Select(c => EstimateTotals.Of(lines.Where(l => l.Choice == c))).Sum(t => t.Total);
        Assert.Equal(EstimateTotals.Of(lines).Total, parts);
    });

    // Within half a unit of the exact product, never more: the rounding that is stated.
    [Fact]
    public void A_rounded_figure_is_at_most_half_a_unit_off() => AnyLine.Sample(line =>
    {
        var amounts = LineAmounts.Of(line);
        Assert.InRange(Math.Abs(amounts.Gross - ((decimal)line.PriceMinor!.Value * line.Thousandths / 1000)), 0, 0.5m);
        Assert.InRange(Math.Abs(amounts.Tax - ((decimal)amounts.Net * line.TaxBasisPoints / 10_000)), 0, 0.5m);
        Assert.InRange(amounts.Discount, 0, amounts.Gross);
    });

    [Fact]
    public void A_line_held_back_or_taken_off_counts_for_nothing() =>
        Assert.Equal(0, EstimateTotals.Of([Samples.Line(LineKind.Part, 1000, 500) with { Unproven = true }, Samples.Line(LineKind.Fee, 1000, 500) with { Removed = true }]).Total);
}
