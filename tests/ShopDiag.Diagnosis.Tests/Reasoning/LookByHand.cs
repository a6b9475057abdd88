namespace ShopDiag.Diagnosis.Tests.Reasoning;

/// <summary>A look at something that is bad (first) or good (second), worked out by hand: it overlooks what is bad and imagines what is not there, each time anew.</summary>
internal sealed record LookByHand(double Overlooked, double Imagined)
{
    /// <summary>What is there, where one look shows this.</summary>
    public double[] Truly(double[] shown)
    {
        // good * (1 - Imagined) + (1 - good) * Overlooked = shown[1]
        var good = (shown[1] - Overlooked) / (1 - Overlooked - Imagined);
        return [1 - good, good];
    }

    /// <summary>Probability that a look shows the outcome.</summary>
    public double Shows(double[] truly, int outcome) => outcome == 1
        ? (truly[1] * (1 - Imagined)) + (truly[0] * Overlooked)
        : (truly[1] * Imagined) + (truly[0] * (1 - Overlooked));
}
