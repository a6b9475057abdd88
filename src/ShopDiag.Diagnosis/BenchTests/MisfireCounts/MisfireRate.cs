namespace ShopDiag.Diagnosis.BenchTests.MisfireCounts;

/// <summary>Misfires as a share of firing events on a four-stroke engine, in percent.</summary>
public static class MisfireRate
{
    /// <summary>
    /// Share of all firing events of the engine: 100 misfires / (revolutions x cylinders / 2), after the definition in
    /// Directive 98/69/EC Annex XI 2.8. Throws <see cref="ArgumentOutOfRangeException"/> unless revolutions and cylinders are above 0.
    /// </summary>
    public static double PercentOfAllFirings(double misfires, double revolutions, int cylinders)
    {
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(cylinders);
        return PercentOfOwnFirings(misfires, revolutions) / cylinders;
    }

    /// <summary>Share of one cylinder's own firings, one every second revolution. Throws unless revolutions are above 0.</summary>
    public static double PercentOfOwnFirings(double misfires, double revolutions)
    {
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(revolutions);
        return 100 * misfires / (revolutions / 2);
    }
}
