namespace ShopDiag.Diagnosis.Workups;

/// <summary>The way in: a workup goes in, an assessment comes out. Same readings, same answer, in any order of entry.</summary>
public static class Diagnostician
{
    /// <summary>Assesses a workup with the given knowledge.</summary>
    public static Assessment Assess(Workup workup, Knowledge knowledge)
    {
        ArgumentNullException.ThrowIfNull(workup);
        ArgumentNullException.ThrowIfNull(knowledge);
        return new Assessment
        {
            Id = workup.Id, Cylinders = [], Causes = [], Unlisted = 1, Next = [], Conclusion = null, Contradictions = [], Findings = [], Warnings = [],
        };
    }
}
