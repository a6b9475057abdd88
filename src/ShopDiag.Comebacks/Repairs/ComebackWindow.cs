namespace ShopDiag.Comebacks.Repairs;

/// <summary>Within which time and distance of a repair the same trouble counts as a comeback: the owner's to set.</summary>
public readonly record struct ComebackWindow
{
    /// <summary>Makes a window.</summary>
    /// <param name="days">Days from hand-over, from 1, the last included.</param>
    /// <param name="kilometres">Kilometres since the repair, from 1, the last included; null for any distance.</param>
    /// <exception cref="ArgumentOutOfRangeException">A number lies below 1.</exception>
    public ComebackWindow(int days, int? kilometres)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(days, 1);
        ArgumentOutOfRangeException.ThrowIfLessThan(kilometres ?? 1, 1, nameof(kilometres));
        (Days, Kilometres) = (days, kilometres);
    }

    /// <summary>A year or 20,000 km, about the twelve months or twelve thousand miles for which many shops stand by a repair. Common practice.</summary>
    public static ComebackWindow Usual => new(365, 20_000);

    /// <summary>Days from hand-over; 0 in the default value, which is no window.</summary>
    public int Days { get; }

    /// <summary>Kilometres since the repair; null for any.</summary>
    public int? Kilometres { get; }

    /// <summary>True when a return after so many days and kilometres falls into it. A distance that is not known does not keep it out.</summary>
    public bool Holds(int days, int? kilometres) => days >= 0 && days <= Days && !(kilometres > Kilometres);
}
