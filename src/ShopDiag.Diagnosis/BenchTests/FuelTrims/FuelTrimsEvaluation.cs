using System.Collections.Immutable;
using ShopDiag.Diagnosis.Statistics;
using ShopDiag.Diagnosis.Workups;

namespace ShopDiag.Diagnosis.BenchTests.FuelTrims;

/// <summary>
/// Adds short and long term (the sum, not the product of the factors) at idle and at 2500 rpm and compares both with the limit.
/// Positive: the computer adds fuel because it sees a lean mixture.
/// </summary>
internal sealed class FuelTrimsEvaluation : ITestEvaluation
{
    private const string Limit = "fuel-trim-percent";

    /// <inheritdoc/>
    public string Name => "fuel-trims";

    /// <inheritdoc/>
    public IEnumerable<Finding> Evaluate(EvaluationInput input)
    {
        ImmutableArray<Finding> banks = [.. input.Readings
            .Select(r => (At: r.Key, Idle: Total(r.Value, "idle"), Speed: Total(r.Value, "2500rpm")))
            .Where(b => b.Idle is not null)
            .Select(b => Judge(input, b.At, b.Idle!.Value, b.Speed))];
        return banks.Select(b => b with { Because = b.Because + Beside(b, banks) + NotFiring(input, b) }).ToList();
    }

    /// <summary>Median over the trials of short plus long term; null where none has both.</summary>
    private static double? Total(ImmutableArray<Reading> trials, string at)
    {
        double[] totals = [.. trials
            .Select(t => t.Value.Number($"{at}.shortPercent") + t.Value.Number($"{at}.longPercent"))
            .OfType<double>()];
        return totals.Length == 0 ? null : Robust.Median(totals);
    }

    private static Finding Judge(EvaluationInput input, Place at, double idle, double? speed)
    {
        var limit = input.Limits[Limit];
        var rule = $"limit {Words.Percent(limit, 1)} either way, {input.Whose(Limit)}";
        var says = $"Short plus long term {Signed(idle)} at idle" + (speed is { } s ? $" and {Signed(s)} at 2500 rpm" : "");
        var (outcome, because) = (Side(idle, limit), speed is { } v ? Side(v, limit) : (int?)null) switch
        {
            (1, -1) or (-1, 1) => (null, "lean at one speed and rich at the other is not one fault. Take both again with the engine warm; if it stays so, suspect the air-flow signal."),
            (-1, -1) => ("rich", "rich at idle and at speed."),
            (-1, _) => ("rich", "rich at idle."),
            (_, -1) => ("rich", "rich at speed."),
            (1, 1) => ("lean-everywhere", "lean at idle and at speed alike."),
            (1, 0) => ("lean-at-idle", "lean at idle only, as false air makes it."),
            (1, null) => (null, "lean at idle; whether false air or missing fuel shows only at speed. Take it at 2500 rpm too."),
            (0, 1) => ("lean-under-load", "lean at speed only, as missing fuel makes it."),
            (0, null) => ("normal", "within the limit at idle; not looked at under load."),
            _ => ((string?)"normal", "within the limit at both."),
        };
        return input.Finding(at, outcome, $"{says} ({rule}): {because}", speed is { } w && Math.Abs(w) > Math.Abs(idle) ? w : idle)
            with { ByDefaultLimit = !input.Limits.IsOwn(Limit) };
    }

    /// <summary>How the other banks stand beside one that is off: what one bank has alone is to be looked for on that bank.</summary>
    private static string Beside(Finding bank, ImmutableArray<Finding> banks)
    {
        ImmutableArray<Finding> others = [.. banks.Where(b => b.At != bank.At && b.Outcome is not null)];
        if (bank.Outcome is null or "normal" || others.IsEmpty)
        {
            return "";
        }

        return others.All(o => o.Outcome == "normal") ? $" The {Other(others)} within the limit: look for something of this bank alone."
            : others.All(o => (o.Outcome == "rich") == (bank.Outcome == "rich") && o.Outcome != "normal") ? $" The {Other(others)} off the same way: look for something that the banks share."
            : "";
    }

    private static string Other(ImmutableArray<Finding> others) => others.Length == 1 ? "other bank is" : "other banks are";

    /// <summary>
    /// The trap of a lean trim: a cylinder that does not fire pumps its air unburnt past the oxygen sensor, which takes the oxygen for a lean mixture
    /// (common practice).
    /// </summary>
    private static string NotFiring(EvaluationInput input, Finding bank)
    {
        if (bank.Measure is not > 0 || bank.Outcome == "normal" || bank.At.Kind != PlaceKind.Bank)
        {
            return "";
        }

        ImmutableArray<int> cylinders = [.. input.Engine.CylindersAt(bank.At)
            .Where(c => input.Earlier.Any(f => f.At == Place.Cylinder(c) && (f.Aspect, f.Outcome) is ("power-balance", "dead") or ("misfire-counts", "misfiring") or ("codes-misfire", "coded")))
            .Order()];
        return cylinders.IsEmpty
            ? ""
            : $" Mind that cylinder {string.Join(", ", cylinders.Select(c => Words.Number(c)))} of this bank misfires: the air that it does not burn reaches the oxygen sensor and reads lean though the mixture is not. Take the trims again once it fires.";
    }

    private static int Side(double total, double limit) => total > limit ? 1 : total < -limit ? -1 : 0;

    private static string Signed(double percent) => (percent > 0 ? "+" : "") + Words.Percent(percent, 1);
}
