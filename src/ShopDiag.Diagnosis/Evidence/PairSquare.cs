using System.Buffers;

namespace ShopDiag.Diagnosis.Evidence;

/// <summary>
/// How many times as likely what was seen is under each pair of hypotheses than the two alone would make it, row by row; the upper half is filled. What depends on who of
/// the two sleeps stands apart. The squares are large and short-lived: they are borrowed, and must be given back.
/// </summary>
internal sealed class PairSquare : IDisposable
{
    private readonly int _side;

    /// <summary>Borrows the squares, all ones.</summary>
    /// <param name="hypotheses">How many hypotheses.</param>
    /// <param name="sleeps">True when one of them can sleep.</param>
    public PairSquare(int hypotheses, bool sleeps)
    {
        _side = hypotheses;
        Always = Ones();
        (BothAwake, FirstAwake, SecondAwake, BothAsleep) = sleeps ? (Ones(), Ones(), Ones(), Ones()) : (Always, Always, Always, Always);
    }

    /// <summary>What holds in any case.</summary>
    public double[] Always { get; }

    /// <summary>What comes to it where both are awake.</summary>
    public double[] BothAwake { get; }

    /// <summary>What comes to it where the second sleeps.</summary>
    public double[] FirstAwake { get; }

    /// <summary>What comes to it where the first sleeps.</summary>
    public double[] SecondAwake { get; }

    /// <summary>What comes to it where both sleep.</summary>
    public double[] BothAsleep { get; }

    /// <summary>True when one of the hypotheses can sleep.</summary>
    public bool Sleeps => BothAwake != Always;

    /// <inheritdoc/>
    public void Dispose()
    {
        foreach (var square in new[] { Always, BothAwake, FirstAwake, SecondAwake, BothAsleep }.Distinct())
        {
            ArrayPool<double>.Shared.Return(square);
        }
    }

    private double[] Ones()
    {
        var square = ArrayPool<double>.Shared.Rent(_side * _side);
        for (var row = 0; row < _side; row++)
        {
            square.AsSpan((row * _side) + row, _side - row).Fill(1);
        }

        return square;
    }
}
