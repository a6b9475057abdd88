namespace ShopDiag.Diagnosis.Quantities;

/// <summary>
/// The voltage that a gap between sharp points takes to break down in open air at 25 C and 760 mmHg, as in a spark tester.
/// Source: AIEE needle-gap table, peak values, read between its lines.
/// </summary>
public static class NeedleGap
{
    private const double KilovoltStep = 5;
    private static readonly double[] Centimetres = [0, 0.42, 0.85, 1.30, 1.75, 2.20, 2.69, 3.20, 3.81, 4.49, 5.20];

    /// <summary>Kilovolts for a gap in millimetres; gaps beyond the table's 52 mm go on at its last slope. A gap below 0 counts as none.</summary>
    public static double Kilovolts(double millimetres)
    {
        var gap = Math.Max(0, millimetres / 10);
        var i = 1;
        while (i < Centimetres.Length - 1 && gap > Centimetres[i])
        {
            i++;
        }

        return KilovoltStep * (i - 1 + ((gap - Centimetres[i - 1]) / (Centimetres[i] - Centimetres[i - 1])));
    }
}
