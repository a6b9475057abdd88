namespace ShopDiag.Diagnosis.NextStep;

/// <summary>
/// Whether it is cheaper to make a repair and see than to prove the cause first. Proving costs its minutes in any case; repairing first costs the work and the parts for
/// nothing where the cause is another. The repair itself is due in both cases and cancels (the p/C rule: Kadane and Simon 1977; Heckerman, Breese and Rommelse 1995).
/// </summary>
public static class RepairAndSee
{
    /// <summary>A repair that is less likely than this to help is a guess and never advised. Common practice.</summary>
    public const double LeastProbability = 0.75;

    /// <summary>Labour beyond this is never spent on an unproven cause. Common practice.</summary>
    public const double MostLabourMinutes = 120;

    /// <summary>Parts dearer than this, in minutes of labour, are never sold for an unproven cause. Common practice.</summary>
    public const double MostPartsInMinutes = 90;

    /// <summary>Minutes that are expected to be lost by repairing first.</summary>
    /// <param name="probability">Probability that the repair helps, 0 to 1.</param>
    /// <param name="labourMinutes">Its labour.</param>
    /// <param name="partsInMinutes">Its parts, as minutes of labour.</param>
    public static double Waste(double probability, double labourMinutes, double partsInMinutes) => (1 - probability) * (labourMinutes + partsInMinutes);

    /// <summary>True when repairing first is expected to lose less than the proof costs, and is no guess.</summary>
    /// <param name="probability">Probability that the repair helps, 0 to 1.</param>
    /// <param name="labourMinutes">Its labour.</param>
    /// <param name="partsInMinutes">Its parts, as minutes of labour.</param>
    /// <param name="proofMinutes">Minutes that a proof is expected to take.</param>
    public static bool IsCheaper(double probability, double labourMinutes, double partsInMinutes, double proofMinutes) =>
        probability >= LeastProbability && labourMinutes <= MostLabourMinutes && partsInMinutes <= MostPartsInMinutes
        && Waste(probability, labourMinutes, partsInMinutes) < proofMinutes;
}
