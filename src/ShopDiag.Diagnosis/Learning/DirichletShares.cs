namespace ShopDiag.Diagnosis.Learning;

/// <summary>Shares of a whole, learned from cases on top of a prior: the Dirichlet-multinomial, for cases of which not each could show every kind.</summary>
internal static class DirichletShares
{
    // Reached within a few dozen rounds for any mix of engines that a shop can have; the bound only guards against an endless loop.
    private const int MostRounds = 1000;
    private const double Settled = 1e-14;

    /// <summary>
    /// The prior's shares count as <paramref name="strength"/> cases; each group's cases are added. Where every kind can be shown by every case this is
    /// the posterior mean (strength * prior + count) / (strength + cases); with a flat prior and a strength equal to the number of kinds, Laplace's rule of succession
    /// (Laplace 1814, Essai philosophique sur les probabilités).
    /// </summary>
    /// <remarks>
    /// A case on an engine without a distributor says nothing about distributor caps: counting it against them would make them vanish in a shop that sees few.
    /// So each case stands, beside itself, for the cases that its engine could not have shown, shared out as the present estimate says, until nothing moves
    /// any more (expectation-maximisation; Dempster, Laird and Rubin 1977, J. R. Stat. Soc. B 39, from memory). What no case could show keeps its prior share exactly.
    /// </remarks>
    public static double[] Learn(double[] prior, double strength, IReadOnlyCollection<CaseGroup> groups)
    {
        var shares = prior;
        for (var round = 0; round < MostRounds; round++)
        {
            var next = Step(shares, prior, strength, groups);
            var moved = next.Zip(shares, (a, b) => Math.Abs(a - b)).Max();
            shares = next;
            if (moved < Settled)
            {
                break;
            }
        }

        return shares;
    }

    private static double[] Step(double[] shares, double[] prior, double strength, IReadOnlyCollection<CaseGroup> groups)
    {
        var counts = Array.ConvertAll(prior, p => strength * p);
        foreach (var group in groups)
        {
            var possible = shares.Where((_, i) => group.Could[i]).Sum();
            for (var i = 0; i < counts.Length; i++)
            {
                counts[i] += group.Could[i] ? group.Counts[i] : group.Total * shares[i] / possible;
            }
        }

        var total = counts.Sum();
        return Array.ConvertAll(counts, c => c / total);
    }
}
