using ShopDiag.Diagnosis.Engines;
using ShopDiag.Diagnosis.Statistics;
using ShopDiag.Diagnosis.Workups;

namespace ShopDiag.Diagnosis.BenchTests.FuelPressure;

/// <summary>Compares running and held pressure with the limits. The general limits are for port injection; a high-pressure rail needs the maker's figure.</summary>
internal sealed class FuelPressureEvaluation : ITestEvaluation
{
    private const string Least = "fuel-pressure-min-kpa";
    private const string Most = "fuel-pressure-max-kpa";
    private const string Hold = "fuel-hold-kpa";

    /// <inheritdoc/>
    public string Name => "fuel-pressure";

    /// <inheritdoc/>
    public IEnumerable<Finding> Evaluate(EvaluationInput input)
    {
        foreach (var (at, trials) in input.Readings)
        {
            if (trials.Numbers("kPa") is { IsEmpty: false } running)
            {
                yield return Judge(input, at, Robust.Median(running), trials.Numbers("afterFiveMinutesKPa") is { IsEmpty: false } held ? Robust.Median(held) : null);
            }
        }
    }

    private static Finding Judge(EvaluationInput input, Place at, double running, double? held)
    {
        var own = input.Limits.IsOwn(Least) || input.Limits.IsOwn(Most);
        var says = held is { } h ? $"{Words.Pressure(running)} running, {Words.Pressure(h)} after five minutes" : $"{Words.Pressure(running)} running";
        if (input.Engine.Injection != Injection.Port && !own)
        {
            return input.Finding(at, null, $"{says}: the general limits are for port injection. Enter the maker's least and greatest pressure with the engine.", running);
        }

        var range = $"{Words.Pressure(input.Limits[Least])} to {Words.Pressure(input.Limits[Most])} ({input.Whose(Least)})";
        var lost = running - (held ?? running);
        var (outcome, because) = true switch
        {
            _ when running < input.Limits[Least] => ("low", $"below {range}."),
            _ when running > input.Limits[Most] => ("high", $"above {range}."),
            _ when lost > input.Limits[Hold] => ("bleeds-down", $"it lost {Words.Pressure(lost)}, more than {Words.Pressure(input.Limits[Hold])} ({input.Whose(Hold)}): an injector, the check valve or the regulator lets go."),
            _ => ("good", held is null ? $"within {range}; the hold was not read." : $"within {range}, and it holds."),
        };
        return input.Finding(at, outcome, $"{says}: {because}", running) with { ByDefaultLimit = outcome == "bleeds-down" ? !input.Limits.IsOwn(Hold) : !own };
    }
}
