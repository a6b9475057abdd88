namespace ShopDiag.Estimates;

/// <summary>What a line comes to, each figure rounded once (<see cref="Rounding"/>).</summary>
/// <param name="Gross">Quantity times price.</param>
/// <param name="Discount">Taken off <paramref name="Gross"/>.</param>
/// <param name="Core">Deposit on old parts.</param>
/// <param name="Tax">On <see cref="Net"/>.</param>
public sealed record LineAmounts(long Gross, long Discount, long Core, long Tax)
{
    /// <summary>Without tax, with the deposit.</summary>
    public long Net => Gross - Discount + Core;

    /// <summary>With tax.</summary>
    public long Total => Net + Tax;

    /// <summary>The amounts of a line; a line without a price comes to nothing but its deposit.</summary>
    public static LineAmounts Of(EstimateLine line)
    {
        ArgumentNullException.ThrowIfNull(line);
        var gross = Rounding.Times(line.PriceMinor ?? 0, line.Thousandths);
        var discount = Rounding.Share(gross, line.DiscountBasisPoints);
        var core = Rounding.Times(line.CoreMinor, line.Thousandths);
        return new(gross, discount, core, Rounding.Share(gross - discount + core, line.TaxBasisPoints));
    }
}
