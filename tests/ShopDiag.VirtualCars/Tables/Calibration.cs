using System.Collections.Immutable;
using ShopDiag.VirtualCars.Play;

namespace ShopDiag.VirtualCars.Tables;

/// <summary>How far stated probabilities are true.</summary>
/// <param name="Brier">Mean squared distance from the truth.</param>
/// <param name="Ece">Expected calibration error: mean distance between stated and true share over ten bins, weighted by how many fall in each.</param>
/// <param name="Bins">The ten bins: how many, mean stated, share true.</param>
internal sealed record Calibration(double Brier, double Ece, ImmutableArray<(int Count, double Stated, double True)> Bins)
{
    private const int BinCount = 10;

    public static Calibration Of(IReadOnlyCollection<Stated> stated)
    {
        var bins = Enumerable.Range(0, BinCount).Select(b =>
        {
            var inBin = stated.Where(s => Math.Min(BinCount - 1, (int)(s.Probability * BinCount)) == b).ToArray();
            return inBin.Length == 0 ? (0, 0, 0) : (inBin.Length, inBin.Average(s => s.Probability), inBin.Average(s => s.True ? 1.0 : 0));
        }).ToImmutableArray<(int Count, double Stated, double True)>();
        return stated.Count == 0
            ? new Calibration(0, 0, bins)
            : new Calibration(
                stated.Average(s => Math.Pow(s.Probability - (s.True ? 1 : 0), 2)),
                bins.Sum(b => b.Count * Math.Abs(b.Stated - b.True)) / stated.Count,
                bins);
    }
}
