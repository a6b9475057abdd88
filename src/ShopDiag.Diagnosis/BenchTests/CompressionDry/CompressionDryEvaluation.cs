using System.Collections.Immutable;
using ShopDiag.Diagnosis.Statistics;
using ShopDiag.Diagnosis.Workups;

namespace ShopDiag.Diagnosis.BenchTests.CompressionDry;

/// <summary>Compares each cylinder with the least allowed and, where others are measured, with the highest of them.</summary>
internal sealed class CompressionDryEvaluation : ITestEvaluation
{
    /// <inheritdoc/>
    public string Name => "compression-dry";

    /// <inheritdoc/>
    public IEnumerable<Finding> Evaluate(EvaluationInput input)
    {
        var cylinders = input.Readings
            .Select(r => new Measured(r.Key, r.Value.Numbers("kPa")))
            .Where(m => !m.Trials.IsEmpty)
            .ToImmutableArray();
        return cylinders.IsEmpty ? [] : [.. cylinders.Select(new CompressionJudge(input, cylinders).Judge)];
    }
}

/// <summary>The dry readings of one cylinder, ascending, in kilopascal; never empty.</summary>
internal sealed record Measured(Place At, ImmutableArray<double> Trials)
{
    public double KPa { get; } = Trials.IsEmpty ? 0 : Robust.Median(Trials);
}

/// <summary>Judges the cylinders of one engine against the limits and each other.</summary>
internal sealed class CompressionJudge
{
    private const string Least = "compression-min-kpa";
    private const string Share = "compression-share-percent";
    private const string DeadLeast = "compression-dead-kpa";
    private const string DeadShare = "compression-dead-percent";
    private const string MostRatio = "compression-most-ratio";

    /// <summary>A cylinder stands out when it lies this many robust standard deviations of the others below their median.</summary>
    private const double OddSigmas = 3;

    private readonly EvaluationInput _input;
    private readonly ImmutableArray<Measured> _cylinders;
    private readonly double _highest;
    private readonly double _least;
    private readonly double _deadLeast;
    private readonly double _most;

    public CompressionJudge(EvaluationInput input, ImmutableArray<Measured> cylinders)
    {
        (_input, _cylinders) = (input, cylinders);
        _highest = cylinders.Max(c => c.KPa);
        var rule = CompressionRules.RuleFor(input);
        _least = CompressionRules.AtAltitude(input.Limits[Least], input.Shop.AltitudeMetres, rule);
        _deadLeast = CompressionRules.AtAltitude(input.Limits[DeadLeast], input.Shop.AltitudeMetres, rule);
        _most = CompressionRules.MostOfAir(input.Limits[MostRatio], input.Shop.AltitudeMetres);
    }

    private bool Alone => _cylinders.Length == 1;

    private double LeastBeside(string share) => Alone ? 0 : CompressionRules.LeastBeside(_highest, _input.Limits[share]);

    public Finding Judge(Measured c)
    {
        var apart = Trials.ApartPercent(c.Trials) > _input.Limits["compression-trials-percent"];
        var (outcome, rule, limit) = Rule(c.KPa);
        if (apart && Rule(c.Trials[0]).Outcome != Rule(c.Trials[^1]).Outcome)
        {
            return _input.Finding(c.At, null, $"The trials lie between {Words.Pressure(c.Trials[0])} and {Words.Pressure(c.Trials[^1])}, on both sides of a limit: check the gauge's seal and take it again.", c.KPa)
                with { TrialsDisagree = true };
        }

        return _input.Finding(c.At, outcome, $"{Words.Pressure(c.KPa)}: {rule}.{Remark(c, outcome)}", c.KPa) with
        {
            TrialsDisagree = apart,
            ByDefaultLimit = limit.Any(l => !_input.Limits.IsOwn(l)),
        };
    }

    /// <summary>The outcome at a pressure, the rule in words and the limits that decided.</summary>
    private (string Outcome, string Rule, ImmutableArray<string> Limits) Rule(double kPa)
    {
        if (kPa < _deadLeast)
        {
            return ("dead", $"below {Words.Pressure(_deadLeast)} ({_input.Whose(DeadLeast)}) a cylinder cannot fire{Altitude}", [DeadLeast]);
        }

        if (kPa < LeastBeside(DeadShare))
        {
            return ("dead", $"below {Words.Percent(_input.Limits[DeadShare])} of the highest, {Words.Pressure(_highest)} ({_input.Whose(DeadShare)})", [DeadShare]);
        }

        if (kPa < _least)
        {
            return ("low", $"below the least allowed, {Words.Pressure(_least)} ({_input.Whose(Least)}){Altitude}", [Least]);
        }

        var beside = LeastBeside(Share);
        if (kPa < beside)
        {
            return ("low", $"below {Words.Pressure(beside)}, which is {Words.Percent(_input.Limits[Share])} of the highest, {Words.Pressure(_highest)} ({_input.Whose(Share)})", [Share]);
        }

        var minimum = $"not below the least allowed, {Words.Pressure(_least)} ({_input.Whose(Least)}){Altitude}";
        return Alone
            ? ("good", $"{minimum}; no other cylinder to compare it with", [Least])
            : ("good", $"{minimum}, nor below {Words.Percent(_input.Limits[Share])} of the highest, {Words.Pressure(_highest)} ({_input.Whose(Share)})", [Least, Share]);
    }

    private string Altitude => CompressionRules.InWords(_input);

    /// <summary>A reading that air alone cannot give, and a cylinder that passes the published rule but plainly differs from the rest, deserve a word.</summary>
    private string Remark(Measured c, string outcome)
    {
        if (c.KPa > _most)
        {
            return $" Air alone gives at most {Words.Pressure(_most)} at a compression ratio of {Words.Number(_input.Limits[MostRatio], 1)}: oil, fuel or coolant in the cylinder, or the gauge is wrong.";
        }

        double[] others = [.. _cylinders.Where(o => o != c).Select(o => o.KPa)];
        if (outcome != "good" || others.Length < 3)
        {
            return "";
        }

        var median = Robust.Median(others);
        var below = median - c.KPa;
        return below > median * _input.Limits["compression-odd-percent"] / 100 && below > OddSigmas * Robust.Sigma(others)
            ? $" Yet it stands out below the others (their middle is {Words.Pressure(median)}): worth a leak-down test if nothing else is found."
            : "";
    }
}
