using ShopDiag.Diagnosis.Quantities;

namespace ShopDiag.Diagnosis.BenchTests.LeakDown;

/// <summary>What a leak-down tester showed, and the percentage that is judged: the reference tester's where the restrictor is known, its own otherwise.</summary>
internal sealed record TesterReading
{
    private readonly double _airKPa;

    private TesterReading(double percent, double? restrictorMm, double? supplyKPa, double airKPa)
    {
        (Percent, RestrictorMm, SupplyKPa, _airKPa) = (percent, restrictorMm, supplyKPa, airKPa);
        Judged = restrictorMm is { } mm ? Math.Round(LeakOrifice.AsReference(percent, mm, Supply, airKPa), 1, MidpointRounding.AwayFromZero) : percent;
    }

    /// <summary>As the tester showed it.</summary>
    public double Percent { get; }

    /// <summary>The tester's restrictor in millimetres, or null when it was not said.</summary>
    public double? RestrictorMm { get; }

    /// <summary>The supply, gauge, or null when it was not said.</summary>
    public double? SupplyKPa { get; }

    /// <summary>The percentage to compare with the limit; in tenths where it was converted.</summary>
    public double Judged { get; }

    private double Supply => SupplyKPa ?? LeakOrifice.ReferenceKPa;

    /// <summary>What the restrictor says of the leak, or nothing where it was not said or the leak cannot be sized (no loss at all, or all of it).</summary>
    public string InWords
    {
        get
        {
            if (RestrictorMm is not { } restrictor || !LeakOrifice.SizesAHole(Percent))
            {
                return "";
            }

            var hole = LeakOrifice.DiameterMm(restrictor, Supply, Supply * (1 - (Percent / 100)), _airKPa);
            var supply = SupplyKPa is { } given ? Words.Pressure(given) : $"{Words.Pressure(Supply)}, the usual supply";
            return $"The tester showed {Words.Percent(Percent, 1)} with a restrictor of {Words.Length(restrictor)} at {supply}: the leak is as large as a hole of {Words.Length(hole)}; "
                + $"a restrictor of {Words.Length(LeakOrifice.ReferenceMm)} at {Words.Pressure(LeakOrifice.ReferenceKPa)} shows {Words.Percent(Judged, 1)} for it, and that is judged.";
        }
    }

    /// <summary>Reads a trial; null where the percentage is missing.</summary>
    public static TesterReading? From(Reading trial, double altitudeMetres) => trial.Value.Number("percent") is { } percent
        ? new(percent, trial.Value.Number("restrictorMm"), trial.Value.Number("supplyKPa"), StandardAtmosphere.Pascals(altitudeMetres) / 1000)
        : null;
}
