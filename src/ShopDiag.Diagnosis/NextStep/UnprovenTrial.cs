using ShopDiag.Diagnosis.Workups;

namespace ShopDiag.Diagnosis.NextStep;

/// <summary>A repair that could be made to see whether it helps.</summary>
/// <param name="Hypothesis">The cause it is named after, by its number in the belief.</param>
/// <param name="Helps">Probability that it helps: of that cause and of all that the same work mends.</param>
/// <param name="Repair">The work.</param>
/// <param name="PartsInMinutes">Its parts, as minutes of labour.</param>
/// <param name="ProofMinutes">Minutes that a proof is expected to take.</param>
internal sealed record UnprovenTrial(int Hypothesis, double Helps, Repair Repair, double PartsInMinutes, double ProofMinutes)
{
    /// <summary>Minutes that are expected to be lost by it.</summary>
    public double Waste => UnprovenRepair.Waste(Helps, Repair.LabourMinutes, PartsInMinutes);

    /// <summary>Minutes that are expected to be saved by it.</summary>
    public double Saved => (Helps * ProofMinutes) - Waste;

    /// <summary>True when it is so large that only what is all but certain is worth it.</summary>
    public bool IsLarge => UnprovenRepair.IsLarge(Repair.LabourMinutes, PartsInMinutes);

    /// <summary>True when it is cheaper than the proof and no guess.</summary>
    public bool IsCheaper => UnprovenRepair.IsCheaper(Helps, Repair.LabourMinutes, PartsInMinutes, ProofMinutes);

    /// <summary>True when no test that is left is worth its minutes, and it is cheaper than going on all the same.</summary>
    public bool IsCheaperThanGoingOn => UnprovenRepair.IsCheaperThanGoingOn(Helps, Repair.LabourMinutes, PartsInMinutes);
}
