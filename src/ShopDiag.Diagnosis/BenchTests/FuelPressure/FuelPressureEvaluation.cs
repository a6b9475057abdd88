using System.Collections.Immutable;
using ShopDiag.Diagnosis.Engines;
using ShopDiag.Diagnosis.Statistics;
using ShopDiag.Diagnosis.Workups;

namespace ShopDiag.Diagnosis.BenchTests.FuelPressure;

/// <summary>
/// Compares the pressure with its limits and what is left after five minutes with the share that must be kept. The general limits
/// are those of port injection: other systems are judged by the maker's figures only.
/// </summary>
internal sealed class FuelPressureEvaluation : ITestEvaluation
{
    private const string Nothing = "fuel-pressure-none-kpa";
    private const string Least = "fuel-pressure-min-kpa";
    private const string Most = "fuel-pressure-max-kpa";
    private const string Hold = "fuel-pressure-hold-percent";

    /// <inheritdoc/>
    public string Name => "fuel-pressure";

    /// <inheritdoc/>
    public IEnumerable<Finding> Evaluate(EvaluationInput input)
    {
        foreach (var (at, trials) in input.Readings)
        {
            if (trials.Numbers("kPa") is { IsEmpty: false } pressures)
            {
                yield return Judge(input, at, pressures, Kept(trials));
            }
        }
    }

    /// <summary>Percent of the pressure left after five minutes, a trial each, ascending.</summary>
    private static ImmutableArray<double> Kept(ImmutableArray<Reading> trials) =>
    [
        .. trials
            .Where(t => t.Value.Number("kPa") > 0)
            .Select(t => 100 * t.Value.Number("afterFiveMinutesKPa") / t.Value.Number("kPa"))
            .OfType<double>()
            .Order(),
    ];

    private static Finding Judge(EvaluationInput input, Place at, ImmutableArray<double> pressures, ImmutableArray<double> kept)
    {
        var kPa = Robust.Median(pressures);
        Finding Found(string? outcome, string because, string limit) =>
            input.Finding(at, outcome, because, kPa) with { ByDefaultLimit = outcome is not null && !input.Limits.IsOwn(limit) };

        if (Level(input, pressures[0]).Outcome != Level(input, pressures[^1]).Outcome)
        {
            return Found(null, $"The trials lie between {Words.Pressure(pressures[0])} and {Words.Pressure(pressures[^1])}, on both sides of a limit: bleed the gauge, mind whether the engine runs or stands, and take it again.", Least)
                with { TrialsDisagree = true };
        }

        var (outcome, rule, limit) = Level(input, kPa);
        var says = $"{Words.Pressure(kPa)}: {rule}";
        if (outcome != "good")
        {
            return Found(outcome, $"{says}.", limit);
        }

        if (kept.IsEmpty || !Applies(input, Hold))
        {
            return Found("good", $"{says}; whether it holds {(kept.IsEmpty ? "was not looked at" : "is not known without the maker's figure")}.", limit);
        }

        return Held(input, kept) is { } hold
            ? Found(hold.Outcome, $"{says}; {hold.Because}", Hold)
            : Found(null, $"{says}; after five minutes the trials keep {Words.Percent(kept[0])} to {Words.Percent(kept[^1])} of it, on both sides of {Words.Percent(input.Limits[Hold])}: take it again with the gauge's valve and hoses tight.", Hold)
                with { TrialsDisagree = true };
    }

    /// <summary>Good, low, high or, where no limit holds for this engine, null.</summary>
    private static (string? Outcome, string Rule, string Limit) Level(EvaluationInput input, double kPa)
    {
        if (kPa < input.Limits[Nothing] && !input.Limits.IsOwn(Least))
        {
            return ("low", $"below {Words.Pressure(input.Limits[Nothing])} ({input.Whose(Nothing)}) no injection works", Nothing);
        }

        if (Applies(input, Least) && kPa < input.Limits[Least])
        {
            return ("low", $"below {Words.Pressure(input.Limits[Least])} ({input.Whose(Least)})", Least);
        }

        if (Applies(input, Most) && kPa > input.Limits[Most])
        {
            return ("high", $"above {Words.Pressure(input.Limits[Most])} ({input.Whose(Most)})", Most);
        }

        return (Applies(input, Least), Applies(input, Most)) switch
        {
            (true, true) => ("good", $"between {Words.Pressure(input.Limits[Least])} ({input.Whose(Least)}) and {Words.Pressure(input.Limits[Most])} ({input.Whose(Most)})", input.Limits.IsOwn(Least) ? Most : Least),
            (true, false) => ("good", $"not below {Words.Pressure(input.Limits[Least])} ({input.Whose(Least)})", Least),
            (false, true) => (null, $"not above {Words.Pressure(input.Limits[Most])} ({input.Whose(Most)}), but the maker's least pressure is not entered with this engine", Most),
            _ => (null, "the general limits are for port injection. Enter the maker's least and greatest pressure with this engine", Least),
        };
    }

    private static bool Applies(EvaluationInput input, string limit) => input.Limits.IsOwn(limit) || input.Engine.Injection == Injection.Port;

    /// <summary>Whether it holds; null where the trials stand on both sides of the limit.</summary>
    private static (string Outcome, string Because)? Held(EvaluationInput input, ImmutableArray<double> kept)
    {
        var least = input.Limits[Hold];
        if ((kept[0] < least) != (kept[^1] < least))
        {
            return null;
        }

        var left = Robust.Median(kept);
        var rule = $"{Words.Percent(least)} ({input.Whose(Hold)})";
        return left < least
            ? ("bleeds-down", $"but after five minutes {Words.Percent(left)} of it is left, less than {rule}: pump valve, regulator or an injector lets it go.")
            : ("good", $"after five minutes {Words.Percent(left)} of it is left, not less than {rule}.");
    }
}
