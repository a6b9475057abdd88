using System.Collections.Immutable;

namespace ShopDiag.Estimates;

/// <summary>What some lines come to together: sums of rounded lines, so that no cent is lost between a line and the total.</summary>
/// <param name="Parts">Parts without tax after discount, without deposits.</param>
/// <param name="Labour">Labour without tax after discount.</param>
/// <param name="Fees">Fees without tax after discount.</param>
/// <param name="Cores">Deposits.</param>
/// <param name="Discounts">What was taken off, contained in the figures before.</param>
/// <param name="Taxes">Taxes by rate, lowest rate first.</param>
/// <param name="Unpriced">Lines that have no price yet.</param>
public sealed record EstimateTotals(
    long Parts, long Labour, long Fees, long Cores, long Discounts, ImmutableArray<TaxTotal> Taxes, int Unpriced)
{
    /// <summary>Without tax.</summary>
    public long Net => Parts + Labour + Fees + Cores;

    /// <summary>All taxes.</summary>
    public long Tax => Taxes.Sum(t => t.Tax);

    /// <summary>With tax.</summary>
    public long Total => Net + Tax;

    /// <summary>The totals of the lines that count (<see cref="EstimateLine.Counts"/>).</summary>
    public static EstimateTotals Of(IEnumerable<EstimateLine> lines)
    {
        var counted = lines.Where(l => l.Counts).Select(l => (Line: l, Amounts: LineAmounts.Of(l))).ToList();
        return new(
            Sum(LineKind.Part),
            Sum(LineKind.Labour),
            Sum(LineKind.Fee),
            counted.Sum(l => l.Amounts.Core),
            counted.Sum(l => l.Amounts.Discount),
            [.. counted.Where(l => l.Line.TaxBasisPoints > 0).GroupBy(l => l.Line.TaxBasisPoints).OrderBy(g => g.Key)
                .Select(g => new TaxTotal(g.Key, g.Sum(l => l.Amounts.Net), g.Sum(l => l.Amounts.Tax)))],
            counted.Count(l => l.Line.PriceMinor is null));

        long Sum(LineKind kind) => counted.Where(l => l.Line.Kind == kind).Sum(l => l.Amounts.Gross - l.Amounts.Discount);
    }
}

/// <summary>The tax of one rate.</summary>
/// <param name="BasisPoints">The rate.</param>
/// <param name="On">The amount that is taxed.</param>
/// <param name="Tax">Sum of the lines' rounded taxes.</param>
public sealed record TaxTotal(int BasisPoints, long On, long Tax);
