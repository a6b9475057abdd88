using System.Collections.Immutable;
using ShopDiag.Diagnosis.Quantities;
using ShopDiag.Diagnosis.Statistics;
using ShopDiag.Diagnosis.Workups;

namespace ShopDiag.Diagnosis.BenchTests.AirSignal;

/// <summary>
/// Compares the air that the sensor reports with what the engine must breathe: by air mass through the volumetric efficiency at wide open throttle, by manifold
/// pressure through a gauge on the same port.
/// </summary>
internal sealed class AirSignalEvaluation : ITestEvaluation
{
    private const string LeastFilling = "air-filling-min-percent";
    private const string MostFilling = "air-filling-max-percent";
    private const string PressureError = "air-pressure-error-percent";

    /// <summary>Temperature of the intake air where none is entered, in degrees Celsius.</summary>
    private const double UsualCelsius = 25;

    /// <inheritdoc/>
    public string Name => "air-signal";

    /// <summary>
    /// Volumetric efficiency in percent: air mass over what the cylinders would hold at the air's density, one filling each two revolutions.
    /// </summary>
    /// <param name="gramsPerSecond">Air mass flow.</param>
    /// <param name="rpm">Engine speed, above 0.</param>
    /// <param name="litres">Displacement, above 0.</param>
    /// <param name="celsius">Intake air temperature.</param>
    /// <param name="metres">Height above the sea; the pressure is that of the standard atmosphere (ISO 2533).</param>
    public static double FillingPercent(double gramsPerSecond, double rpm, double litres, double celsius, double metres)
    {
        // Density in g/L by the gas equation, R = 287.05 J/(kg K) for dry air (ISO 2533).
        var gramsPerLitre = StandardAtmosphere.Pascals(metres) / (287.05 * (celsius + 273.15));
        return 100 * gramsPerSecond / (litres / 2 * (rpm / 60) * gramsPerLitre);
    }

    /// <inheritdoc/>
    public IEnumerable<Finding> Evaluate(EvaluationInput input) => GivenChoice.EachPlace(input, "sensor", (at, trials, sensor) => sensor.Id == "pressure"
        ? Judge(input, at, Shares(trials), new("The sensor shows, of the gauge's pressure,", 100 - input.Limits[PressureError], 100 + input.Limits[PressureError], PressureError, PressureError, "the pressure by the sensor and by a gauge"))
        : Judge(input, at, Fillings(input, trials), new("The cylinders would fill to", input.Limits[LeastFilling], input.Limits[MostFilling], LeastFilling, MostFilling, "air mass, engine speed and displacement")));

    private static Finding Judge(EvaluationInput input, Place at, ImmutableArray<double> percents, Scale scale)
    {
        if (percents.IsEmpty)
        {
            return input.Finding(at, null, $"Enter {scale.Needs}: without them nothing can be said.");
        }

        var middle = Robust.Median(percents);
        var (outcome, limit) = scale.Level(middle);
        var words = $"{scale.What} {Words.Number(middle, 0)} %, and {Words.Number(scale.Least, 0)} to {Words.Number(scale.Most, 0)} % is to be expected ({input.Whose(limit)})";
        if (scale.Level(percents[0]) != scale.Level(percents[^1]))
        {
            return input.Finding(at, null, $"{words}; the trials lie on both sides of a limit: take it again.", middle) with { TrialsDisagree = true };
        }

        var says = outcome switch
        {
            "reads-low" => "the signal reads low, or the engine cannot breathe",
            "reads-high" => "the signal reads high",
            _ => "the signal fits",
        };
        return input.Finding(at, outcome, $"{words}: {says}.", middle) with { ByDefaultLimit = !input.Limits.IsOwn(limit) };
    }

    // What is compared, within which percents, by which limits, and what must be read for it.
    private sealed record Scale(string What, double Least, double Most, string Lower, string Upper, string Needs)
    {
        public (string Outcome, string Limit) Level(double percent) =>
            percent < Least ? ("reads-low", Lower) : percent > Most ? ("reads-high", Upper) : ("fits", Lower);
    }

    private static ImmutableArray<double> Fillings(EvaluationInput input, ImmutableArray<Reading> trials) =>
    [
        .. from trial in trials
           let value = trial.Value
           where value.Number("gramsPerSecond") is not null && value.Number("rpm") > 0 && value.Number("litres") > 0
           orderby value.Number("gramsPerSecond") / (value.Number("rpm") * value.Number("litres"))
           select FillingPercent(value.Number("gramsPerSecond")!.Value, value.Number("rpm")!.Value, value.Number("litres")!.Value, value.Number("intakeCelsius") ?? UsualCelsius, input.Shop.AltitudeMetres),
    ];

    private static ImmutableArray<double> Shares(ImmutableArray<Reading> trials) =>
    [
        .. trials.Where(t => t.Value.Number("gaugeKPa") > 0).Select(t => 100 * t.Value.Number("sensorKPa") / t.Value.Number("gaugeKPa")).OfType<double>().Order(),
    ];
}
