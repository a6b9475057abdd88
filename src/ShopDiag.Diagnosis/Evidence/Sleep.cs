namespace ShopDiag.Diagnosis.Evidence;

/// <summary>
/// A fault that comes and goes is awake or asleep for the whole visit: asleep, every reading that shows it only while it acts comes out as on a sound engine, the
/// second no less likely than the first. So one hidden yes-or-no is shared by all live readings of all groups, and good readings of a fault asleep do not add up against it
/// without end.
/// </summary>
internal static class Sleep
{
    /// <summary>
    /// Takes one reading's distribution apart into the one of the fault awake and the one of the fault asleep, so that both together give it back. Asleep it is as on a sound engine
    /// (null), or where the rule leaves less room for that, as near to it as the rule allows.
    /// </summary>
    /// <param name="shown">What the rule says.</param>
    /// <param name="healthy">What a sound engine shows.</param>
    /// <param name="sleeps">Probability that the fault sleeps, above 0 and below 1.</param>
    public static (double[]? Awake, double[]? Asleep) Split(double[] shown, double[] healthy, double sleeps)
    {
        var room = shown.Select((p, o) => p / healthy[o]).Min();
        var sound = Math.Min(1, room / sleeps);
        var share = sleeps * sound;
        double[] awake = [.. shown.Select((p, o) => Math.Max(0, (p - (share * healthy[o])) / (1 - share)))];
        return (awake, sound >= 1 ? null : [.. awake.Select((p, o) => (sound * healthy[o]) + ((1 - sound) * p))]);
    }
}
