using System.Collections.Immutable;
using ShopDiag.Diagnosis.BenchTests.PowerBalance;
using ShopDiag.Diagnosis.Statistics;
using ShopDiag.Diagnosis.Workups;

namespace ShopDiag.Diagnosis.BenchTests.RunnerTemperature;

/// <summary>Compares how far each exhaust runner warmed up with the sound level of all of them.</summary>
internal sealed class RunnerTemperatureEvaluation : ITestEvaluation
{
    /// <inheritdoc/>
    public string Name => "runner-temperature";

    /// <inheritdoc/>
    public IEnumerable<Finding> Evaluate(EvaluationInput input)
    {
        var runners = input.Readings.Select(r => new Runner(r.Key, r.Value.Numbers("celsius"))).Where(r => !r.Trials.IsEmpty).ToImmutableArray();
        return runners.IsEmpty ? [] : [.. runners.Select(new RunnerJudge(input, runners).Judge)];
    }
}

/// <summary>The temperatures of one runner, ascending, in degrees Celsius; never empty when judged.</summary>
internal sealed record Runner(Place At, ImmutableArray<double> Trials)
{
    public double Celsius { get; } = Trials.IsEmpty ? 0 : Robust.Median(Trials);
}

/// <summary>Judges the runners of one engine against each other.</summary>
internal sealed class RunnerJudge
{
    private const string Cold = "runner-cold-percent";
    private const string Hot = "runner-hot-percent";

    /// <summary>A runner stands out when it lies this many robust standard deviations of the others from their level.</summary>
    private const double OddSigmas = 3;

    private readonly EvaluationInput _input;
    private readonly ImmutableArray<Runner> _runners;
    private readonly double _shop;
    private readonly double _level;

    public RunnerJudge(EvaluationInput input, ImmutableArray<Runner> runners)
    {
        (_input, _runners, _shop) = (input, runners, input.Limits["runner-shop-c"]);

        // A cylinder that does not burn leaves its runner cold, so the sound ones are sought among the hotter half.
        _level = Robust.SoundLevel(runners.Select(r => r.Celsius));
    }

    public Finding Judge(Runner runner)
    {
        var says = $"{Words.Temperature(runner.Celsius)}, while the sound ones are near {Words.Temperature(_level)}";
        if (_runners.Length < Math.Max(2, BalanceRules.FewestCylinders(_input.Engine.CylinderCount)))
        {
            return Found(runner, null, $"{Words.Temperature(runner.Celsius)}. One runner says little by itself: measure the others too, in the same round.");
        }

        if (_level < _input.Limits["runner-warm-c"] || _level <= _shop)
        {
            return Found(runner, null, $"{says}: not warmed up enough to differ. Let it idle a minute or two longer and go round again.");
        }

        var (outcome, rule) = Rule(runner.Celsius);
        if (Rule(runner.Trials[0]).Outcome != Rule(runner.Trials[^1]).Outcome)
        {
            return Found(runner, null, $"The trials lie between {Words.Temperature(runner.Trials[0])} and {Words.Temperature(runner.Trials[^1])}, on both sides of a limit: mark the spot with matt paint and take it again.")
                with { TrialsDisagree = true };
        }

        return outcome != "even" && IsWithinScatter(runner)
            ? Found(runner, null, $"{says}: {rule}, but the others scatter as much. Aim at the same matt spot of every runner and go round again.")
            : Found(runner, outcome, $"{says}: {rule}.");
    }

    private (string Outcome, string Rule) Rule(double celsius)
    {
        var share = 100 * (celsius - _shop) / (_level - _shop);
        var warmed = $"it warmed up by {Words.Percent(Math.Max(0, share))} of what they did";
        return share < _input.Limits[Cold] ? ("cold", $"{warmed}, less than {Words.Percent(_input.Limits[Cold])} ({_input.Whose(Cold)}): little or nothing burns there")
            : share > _input.Limits[Hot] ? ("hot", $"{warmed}, more than {Words.Percent(_input.Limits[Hot])} ({_input.Whose(Hot)}): it burns late or lean")
            : ("even", $"{warmed}, between {Words.Percent(_input.Limits[Cold])} and {Words.Percent(_input.Limits[Hot])} ({_input.Whose(Cold)})");
    }

    private bool IsWithinScatter(Runner runner)
    {
        double[] others = [.. _runners.Where(r => r != runner).Select(r => r.Celsius)];
        return others.Length >= 3 && Math.Abs(runner.Celsius - _level) <= OddSigmas * Robust.Sigma(others);
    }

    private Finding Found(Runner runner, string? outcome, string because) => _input.Finding(runner.At, outcome, because, runner.Celsius) with
    {
        ByDefaultLimit = outcome is not null && !_input.Limits.IsOwn(outcome == "hot" ? Hot : Cold),
    };
}
