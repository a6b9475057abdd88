using ShopDiag.Diagnosis.Evidence;

namespace ShopDiag.Diagnosis.NextStep;

/// <summary>
/// Whether the next step may be a repair whose cause is not proven: the weighing of <see cref="Decisions.RepairAndSee"/>, p T saved against (1 - p) R spent in vain, for the
/// likeliest cause alone. Its bars here are for what is at the car already: likelier, but dearer than a hose or a terminal.
/// </summary>
internal static class UnprovenRepair
{
    /// <summary>As long as reading on is worth its minutes, a repair that is less likely than this to help is a guess and not advised. Common practice.</summary>
    public const double LeastProbability = 0.75;

    /// <summary>Labour beyond this is then not spent on an unproven cause. Common practice.</summary>
    public const double MostLabourMinutes = 120;

    /// <summary>Parts dearer than this, in minutes of labour, are then not sold for an unproven cause. Common practice.</summary>
    public const double MostPartsInMinutes = 90;

    /// <summary>The same where the search is as good as over: what is not likelier than all else together, as for a proof, stays a guess. Common practice.</summary>
    public const double LeastProbabilityInTheEnd = Proofs.LeastProbability;

    /// <summary>
    /// From this probability on, where the search is as good as over, all else has been excluded: then the repair may be tried though nothing was read that speaks for it, though its spot must still be found, and though it is a large one. Common practice.
    /// </summary>
    public const double AllButCertain = 0.9;

    /// <summary>Labour beyond this is not spent on a cause that is neither proven nor all but certain where the search is over either; no head comes off for it. Common practice.</summary>
    public const double MostLabourMinutesInTheEnd = 180;

    /// <summary>Parts dearer than this, in minutes of labour, are not sold for it where the search is over either. Common practice.</summary>
    public const double MostPartsInMinutesInTheEnd = 150;

    /// <summary>Labour beyond this is not spent unproven at all: an engine is not taken apart on a belief. A working day. Common practice.</summary>
    public const double MostLabourMinutesEver = 480;

    /// <summary>True for a repair that only what is all but certain is worth without a proof.</summary>
    /// <param name="labourMinutes">Its labour.</param>
    /// <param name="partsInMinutes">Its parts, as minutes of labour.</param>
    public static bool IsLarge(double labourMinutes, double partsInMinutes) => labourMinutes > MostLabourMinutesInTheEnd || partsInMinutes > MostPartsInMinutesInTheEnd;

    /// <summary>The least probability that a repair must have to be advised unproven, 0 to 1.</summary>
    /// <param name="searchIsOver">True where no test that is left is worth its minutes.</param>
    public static double LeastHelp(bool searchIsOver) => searchIsOver ? LeastProbabilityInTheEnd : LeastProbability;

    /// <summary>Minutes that are expected to be lost by repairing first.</summary>
    /// <param name="probability">Probability that the repair helps, 0 to 1.</param>
    /// <param name="labourMinutes">Its labour.</param>
    /// <param name="partsInMinutes">Its parts, as minutes of labour.</param>
    public static double Waste(double probability, double labourMinutes, double partsInMinutes) => (1 - probability) * (labourMinutes + partsInMinutes);

    /// <summary>True when repairing first is expected to lose less than the proof it saves, and is no guess.</summary>
    /// <param name="probability">Probability that the repair helps, 0 to 1.</param>
    /// <param name="labourMinutes">Its labour.</param>
    /// <param name="partsInMinutes">Its parts, as minutes of labour.</param>
    /// <param name="proofMinutes">Minutes that a proof is expected to take.</param>
    public static bool IsCheaper(double probability, double labourMinutes, double partsInMinutes, double proofMinutes) =>
        probability >= LeastProbability && labourMinutes <= MostLabourMinutes && partsInMinutes <= MostPartsInMinutes
        && Waste(probability, labourMinutes, partsInMinutes) < probability * proofMinutes;

    /// <summary>True when repairing is expected to lose less than going on with tests of which none is worth its minutes.</summary>
    /// <param name="probability">Probability that the repair helps, 0 to 1.</param>
    /// <param name="labourMinutes">Its labour.</param>
    /// <param name="partsInMinutes">Its parts, as minutes of labour.</param>
    public static bool IsCheaperThanGoingOn(double probability, double labourMinutes, double partsInMinutes) =>
        probability >= LeastProbabilityInTheEnd
        && (probability >= AllButCertain ? labourMinutes <= MostLabourMinutesEver : !IsLarge(labourMinutes, partsInMinutes))
        && Waste(probability, labourMinutes, partsInMinutes) < probability * CostToGo.Unproven;
}
