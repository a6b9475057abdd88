namespace ShopDiag.Diagnosis.Evidence;

/// <summary>
/// What one seen group says for each speaker and for two of them together, worked out once. Places at which the same was read share it: most cylinders of an engine
/// read alike.
/// </summary>
internal sealed class Weighing(SeenGroup group)
{
    private readonly double _sound = group.Shown(null, null);
    private readonly double[] _shown = Unknown(group.Model.Speakers);
    private readonly double[] _bits = Unknown(group.Model.Speakers);
    private readonly double[]?[] _shares = new double[group.Model.Speakers][];
    private readonly double[]?[] _excess = new double[group.Model.Speakers][];

    /// <summary>log2 of P(seen | the fault) / P(seen | sound engine).</summary>
    public double Bits(Speaker one)
    {
        if (double.IsNaN(_bits[one.Number]))
        {
            _shown[one.Number] = group.Shown(one, null);
            _bits[one.Number] = Math.Log2(GroupModel.Mixed(one, _sound, _shown[one.Number]) / _sound);
        }

        return _bits[one.Number];
    }

    /// <summary>What two faults together say beyond the sum of both alone, in bits.</summary>
    public double Excess(Speaker one, Speaker other)
    {
        var (first, second) = one.Number <= other.Number ? (one, other) : (other, one);
        var row = _excess[first.Number] ??= Unknown(group.Model.Speakers);
        if (double.IsNaN(row[second.Number]))
        {
            var alone = Bits(first) + Bits(second);
            var together = GroupModel.Mixed(first, second, _sound, _shown[first.Number], _shown[second.Number], group.Shown(first, second));
            row[second.Number] = Math.Log2(together / _sound) - alone;
        }

        return row[second.Number];
    }

    /// <summary>The share of each reading of the group in <see cref="Bits"/>.</summary>
    public double[] Shares(Speaker one) => _shares[one.Number] ??= Breakdown.Shares(group, one);

    private static double[] Unknown(int length)
    {
        var unknown = new double[length];
        Array.Fill(unknown, double.NaN);
        return unknown;
    }
}
