using System.Collections.Immutable;

namespace ShopDiag.Diagnosis.NextStep;

/// <summary>How things would stand after some readings came out in a supposed way.</summary>
/// <param name="Weights">Probability of each fault set; they add up to 1.</param>
/// <param name="Supposed">The outcomes supposed so far.</param>
/// <param name="Opened">What would be begun and taken off.</param>
internal sealed record Prospect(double[] Weights, ImmutableArray<Supposed> Supposed, Opened Opened)
{
    /// <summary>The outcome supposed of a spot, or null.</summary>
    public int? OutcomeOf(Spot spot)
    {
        foreach (var s in Supposed)
        {
            if (ReferenceEquals(s.Spot, spot))
            {
                return s.Outcome;
            }
        }

        return null;
    }
}
