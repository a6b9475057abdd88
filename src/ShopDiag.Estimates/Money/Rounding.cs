namespace ShopDiag.Estimates;

/// <summary>Exact amounts in minor units: every product is rounded once, on its line, to the nearest minor unit, halves away from zero.</summary>
public static class Rounding
{
    /// <summary>How amounts are rounded, for screen and paper.</summary>
    public const string InWords = "Each line, its discount and its tax are rounded to the nearest smallest coin, halves up; the totals are the sums of the rounded lines.";

    /// <summary>Basis points in the whole.</summary>
    public const int Whole = 10_000;

    /// <summary>A quantity in thousandths of a price.</summary>
    public static long Times(long minor, long thousandths) => Round((decimal)minor * thousandths / 1000);

    /// <summary>A share in basis points of an amount.</summary>
    public static long Share(long minor, int basisPoints) => Round((decimal)minor * basisPoints / Whole);

    private static long Round(decimal amount) => (long)Math.Round(amount, MidpointRounding.AwayFromZero);
}
