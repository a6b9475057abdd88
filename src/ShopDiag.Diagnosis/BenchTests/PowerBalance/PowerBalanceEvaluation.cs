using System.Collections.Immutable;
using ShopDiag.Diagnosis.Statistics;
using ShopDiag.Diagnosis.Workups;

namespace ShopDiag.Diagnosis.BenchTests.PowerBalance;

/// <summary>
/// Compares each cylinder's drop with the sound level of the others' drops, and says "cannot tell" where the idle control
/// or the scatter of the trials hides what there is to see.
/// </summary>
internal sealed class PowerBalanceEvaluation : ITestEvaluation
{
    /// <inheritdoc/>
    public string Name => "power-balance";

    /// <inheritdoc/>
    public IEnumerable<Finding> Evaluate(EvaluationInput input)
    {
        var run = input.Readings.Select(r => Cancellation.Of(r.Key, r.Value)).OfType<Cancellation>().ToImmutableArray();
        return run.IsEmpty ? [] : [.. run.Select(new BalanceJudge(input, run).Judge)];
    }
}

/// <summary>Judges the cylinders of one balance run against each other.</summary>
internal sealed class BalanceJudge
{
    private const string Weak = "power-balance-weak-percent";
    private const string Dead = "power-balance-dead-percent";

    /// <summary>A healthy drop must stand this many standard deviations of a trial above nothing to be told from noise.</summary>
    private const double NoiseSigmas = 2;

    private readonly EvaluationInput _input;
    private readonly ImmutableArray<Cancellation> _run;
    private readonly double _commonBase;
    private readonly double? _sigma;
    private readonly double _readable;

    public BalanceJudge(EvaluationInput input, ImmutableArray<Cancellation> run)
    {
        (_input, _run) = (input, run);
        _commonBase = Robust.Median(run.Select(c => c.Base));
        _sigma = Robust.Pooled(run.Select(c => c.Sigma));
        _readable = Math.Max(input.Limits["power-balance-readable-rpm"], NoiseSigmas * (_sigma ?? 0));
    }

    public Finding Judge(Cancellation c)
    {
        if (Stalls(c))
        {
            return Found(c, "contributing", $"The engine all but stalled without it ({Fall(c)}): it carries a full share.");
        }

        if (!SameBase(c))
        {
            return Found(c, null, $"Started from {Words.Rpm(c.Base)} while the others started near {Words.Rpm(_commonBase)}: drops from different speeds cannot be compared. Take it again at the same speed.");
        }

        var others = _run.Where(o => o != c && SameBase(o)).ToImmutableArray();
        var peers = others.Where(o => !Stalls(o)).ToImmutableArray();
        return others.Length + 1 < BalanceRules.FewestCylinders(_input.Engine.CylinderCount) || peers.IsEmpty
            ? TooFew(c)
            : Compare(c, Robust.SoundLevel(peers.Select(p => p.Drop)));
    }

    private Finding TooFew(Cancellation c) => Found(c, null, _input.Engine.CylinderCount == 1
        ? $"{Fall(c)}. An engine with one cylinder has no other to compare it with."
        : $"{Fall(c)}. One drop says little by itself: take the other cylinders too, at the same speed.");

    private Finding Compare(Cancellation c, double healthy)
    {
        if (healthy < _readable)
        {
            return c.Drop >= _readable
                ? Found(c, "contributing", $"{Fall(c)}: a clear drop, although the other cylinders hardly show one.")
                : Hidden(c, healthy);
        }

        var (weak, dead) = (BalanceRules.LeastDrop(healthy, _input.Limits[Weak]), BalanceRules.LeastDrop(healthy, _input.Limits[Dead]));
        string Outcome(double drop) => drop < dead ? "dead" : drop < weak ? "weak" : "contributing";
        var sigma = c.Sigma ?? _sigma ?? 0;
        var (worst, best) = (Outcome(c.Drop - sigma), Outcome(c.Drop + sigma));
        if (worst == "dead" && best == "contributing")
        {
            return Found(c, null, $"{Fall(c)}, but the trials scatter by {Words.Rpm(sigma)}, as much as there is to see (healthy drop {Words.Rpm(healthy)}). Let the speed settle and take it again, two or three times.")
                with { TrialsDisagree = true };
        }

        var outcome = Outcome(c.Drop);
        var share = $"{Words.Percent(100 * c.Drop / healthy)} of the other cylinders' healthy drop of {Words.Rpm(healthy)}";
        return Found(c, outcome, $"{Fall(c)}, {share}: {Rule(outcome, weak, dead)}.") with
        {
            TrialsDisagree = worst != best,
            ByDefaultLimit = !_input.Limits.IsOwn(outcome == "dead" ? Dead : Weak),
        };
    }

    private string Rule(string outcome, double weak, double dead)
    {
        var weakRule = $"{Words.Rpm(weak)} ({Words.Percent(_input.Limits[Weak])}, {_input.Whose(Weak)})";
        return outcome switch
        {
            "contributing" => $"at or above {weakRule}",
            "weak" => $"below {weakRule}, but not below {Words.Rpm(dead)} ({Words.Percent(_input.Limits[Dead])})",
            "dead" => $"below {Words.Rpm(dead)} ({Words.Percent(_input.Limits[Dead])}, {_input.Whose(Dead)})",
            _ => throw new InvalidOperationException($"Unknown outcome {outcome}."),
        };
    }

    private Finding Hidden(Cancellation c, double healthy) => Found(c, null,
        $"{Fall(c)}, and the others do no better ({Words.Rpm(healthy)}; less than {Words.Rpm(_readable)} cannot be told from noise). "
        + "The idle control holds the speed up: fix it in open loop and take the run again, or use the misfire counts.");

    private Finding Found(Cancellation c, string? outcome, string because) => _input.Finding(c.At, outcome, because, c.Drop);

    private bool Stalls(Cancellation c) => c.Cancelled <= _input.Limits["power-balance-stall-rpm"] && c.Drop >= _readable;

    private bool SameBase(Cancellation c) =>
        Math.Abs(c.Base - _commonBase) <= _commonBase * _input.Limits["power-balance-base-percent"] / 100;

    private static string Fall(Cancellation c) => c.Drop >= 0
        ? $"The speed fell by {Words.Rpm(c.Drop)}, from {Words.Number(c.Base)} to {Words.Number(c.Cancelled)}"
        : $"The speed rose by {Words.Rpm(-c.Drop)}, from {Words.Number(c.Base)} to {Words.Number(c.Cancelled)}";
}
