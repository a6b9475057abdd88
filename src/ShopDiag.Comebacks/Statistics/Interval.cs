namespace ShopDiag.Comebacks.Statistics;

/// <summary>Between which values something lies, both ends included.</summary>
/// <param name="Low">The lower end.</param>
/// <param name="High">The upper end, not below <paramref name="Low"/>.</param>
public readonly record struct Interval(double Low, double High)
{
    /// <summary>Everything a share can be: what is known when nothing was seen.</summary>
    public static Interval AnyShare => new(0, 1);

    /// <summary>True when the value lies in it or on one of its ends.</summary>
    public bool Holds(double value) => value >= Low && value <= High;
}
