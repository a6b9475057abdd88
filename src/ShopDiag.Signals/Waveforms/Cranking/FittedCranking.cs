namespace ShopDiag.Signals.Waveforms.Cranking;

/// <summary>A cranking explained: the pressures in firing order from the position that stands at cycle 0, and how well.</summary>
internal sealed record FittedCranking
{
    /// <summary>Below this a cylinder seems dead.</summary>
    private const double Dead = 0.3;

    /// <summary>The starter's lag, seconds.</summary>
    public required double Lag { get; init; }

    /// <summary>Pressure as a share of the level of the sound ones.</summary>
    public required double[] Share { get; init; }

    /// <summary>Standard error of each share, from how the working cycles differ.</summary>
    public required double[] Error { get; init; }

    /// <summary>How much of the variance about a smooth base is explained, 0 to 1.</summary>
    public required double R2 { get; init; }

    /// <summary>Working cycles at each sample.</summary>
    public required double[] Cycles { get; init; }

    /// <summary>The speed of the fastest working cycle beside the middle one.</summary>
    public required double Fastest { get; init; }

    /// <summary>Working cycles from the first sample to the last.</summary>
    public double CyclesInAll => Cycles[^1] - Cycles[0];

    /// <summary>Full ones.</summary>
    public int FullCycles => (int)(CyclesInAll + 0.02);

    /// <summary>True when each second cylinder seems dead and the others do not.</summary>
    public bool SkipsEachSecond => Share.Length % 2 == 0 && Enumerable.Range(0, 2).Any(odd => Share.Where((s, i) => (i % 2 == odd) == (s > Dead)).Count() == Share.Length);

    /// <summary>Working cycles at a time from the first sample on, seconds; null outside.</summary>
    public double? CyclesAt(double seconds, double hertz)
    {
        var at = seconds * hertz;
        var i = (int)at;
        return at < 0 || i + 1 >= Cycles.Length ? null : Cycles[i] + ((at - i) * (Cycles[i + 1] - Cycles[i]));
    }

    /// <summary>Seconds from the first sample to each top dead centre, with its position.</summary>
    public IEnumerable<(double Seconds, int Position)> TopDeadCentres(double hertz)
    {
        var n = Share.Length;
        for (var i = 1; i < Cycles.Length; i++)
        {
            var hump = Math.Floor(Cycles[i] * n);
            if (hump > Math.Floor(Cycles[i - 1] * n))
            {
                var part = ((hump / n) - Cycles[i - 1]) / (Cycles[i] - Cycles[i - 1]);
                yield return ((i - 1 + part) / hertz, (int)(((hump % n) + n) % n));
            }
        }
    }
}
