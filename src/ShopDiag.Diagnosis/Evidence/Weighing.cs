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
    private readonly double[] _ratio = Unknown(group.Model.Speakers);
    private readonly double[]?[] _excess = new double[group.Model.Speakers][];

    /// <summary>log2 of P(seen | the fault) / P(seen | sound engine).</summary>
    public double Bits(Speaker one) => double.IsNaN(_bits[one.Number]) ? _bits[one.Number] = Math.Log2(Ratio(one)) : _bits[one.Number];

    private double Ratio(Speaker one)
    {
        if (double.IsNaN(_ratio[one.Number]))
        {
            _shown[one.Number] = group.Shown(one, null);
            _ratio[one.Number] = GroupModel.Mixed(one, _sound, _shown[one.Number]) / _sound;
        }

        return _ratio[one.Number];
    }

    /// <summary>
    /// How many times as likely what was seen is under a fault together with each other of a list than the two alone would make it, by number of the speaker; for those that sleep, asleep too.
    /// </summary>
    public ReadOnlySpan<double> Excess(Speaker one, List<Speaker> others)
    {
        var row = Row(one);
        foreach (var other in others)
        {
            Fill(row, one, other);
            if (other.Sleeps)
            {
                Fill(row, one, other.Less);
            }
        }

        return row;
    }

    /// <summary>The same for one other.</summary>
    public double Excess(Speaker one, Speaker other)
    {
        var row = Row(one);
        Fill(row, one, other);
        return row[other.Number];
    }

    private void Fill(double[] row, Speaker one, Speaker other)
    {
        if (double.IsNaN(row[other.Number]))
        {
            row[other.Number] = Row(other)[one.Number] = ExcessOf(one, other);
        }
    }

    private double[] Row(Speaker one) => _excess[one.Number] ??= Unknown(group.Model.Speakers);

    private double ExcessOf(Speaker one, Speaker other)
    {
        if (one.IsSilent || other.IsSilent)
        {
            return 1;
        }

        var alone = Ratio(one) * Ratio(other);
        return GroupModel.Mixed(one, other, _sound, _shown[one.Number], _shown[other.Number], group.Shown(one, other)) / _sound / alone;
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
