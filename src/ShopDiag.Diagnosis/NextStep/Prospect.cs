using System.Collections.Immutable;

namespace ShopDiag.Diagnosis.NextStep;

/// <summary>How things would stand after some readings came out in a supposed way.</summary>
/// <param name="Weights">Probability of each fault set; they add up to 1.</param>
/// <param name="Supposed">The outcomes supposed so far.</param>
/// <param name="Opened">What would be begun and taken off.</param>
internal sealed record Prospect(double[] Weights, ImmutableArray<Supposed> Supposed, Opened Opened)
{
    /// <summary>The outcome supposed of an aspect at a place, or null.</summary>
    public int? OutcomeOf(string aspect, Place at)
    {
        foreach (var s in Supposed)
        {
            if (s.At == at && s.Aspect == aspect)
            {
                return s.Outcome;
            }
        }

        return null;
    }
}
