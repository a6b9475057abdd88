using ShopDiag.Diagnosis.Workups;

namespace ShopDiag.Diagnosis.BenchTests.ValveLift;

/// <summary>
/// Compares intake with intake and exhaust with exhaust of the other cylinders, and both with the maker's least where the engine has one. One cylinder alone is
/// judged only where its lift is plainly too little or plainly enough.
/// </summary>
internal sealed class ValveLiftEvaluation : ITestEvaluation
{
    /// <inheritdoc/>
    public string Name => "valve-lift";

    /// <inheritdoc/>
    public IEnumerable<Finding> Evaluate(EvaluationInput input)
    {
        LiftJudge[] valves = [new(input, "intake"), new(input, "exhaust")];
        foreach (var at in input.Readings.Keys)
        {
            LiftJudgement[] judged = [.. valves.Select(v => v.Judge(at)).OfType<LiftJudgement>()];
            if (judged.Length > 0)
            {
                yield return Judge(input, at, judged);
            }
        }
    }

    // One valve that does not open is enough.
    private static Finding Judge(EvaluationInput input, Place at, LiftJudgement[] judged)
    {
        var says = string.Join(" ", judged.Select(j => j.Words));
        var finding = judged.MinBy(j => j.Lost is null ? 1 : j.Lost.Value ? 0 : 2)! is var worst && worst.Lost is { } lost
            ? input.Finding(at, lost ? "lost" : "good", says)
            : input.Finding(at, null, says);
        return finding with { Measure = judged.Min(j => j.Millimetres), TrialsDisagree = judged.Any(j => j.TrialsApart), ByDefaultLimit = worst.General };
    }
}

/// <summary>What one valve came to: lost, not lost, or (null) not to be told.</summary>
internal sealed record LiftJudgement(double Millimetres, bool? Lost, string Words, bool General = true, bool TrialsApart = false);

/// <summary>Judges the intake valves, or the exhaust valves, of one engine.</summary>
internal sealed class LiftJudge(EvaluationInput input, string valve)
{
    private const string Share = "lift-share-percent";
    private const string Usual = "lift-usual-mm";
    private const string Apart = "lift-trials-percent";
    private readonly Beside _all = new(input, $"{valve}Mm");

    private string Least => $"{valve}-lift-min-mm";

    private string Name => valve == "intake" ? "Intake" : "Exhaust";

    /// <summary>What the valve came to at a cylinder, or null where it was not read.</summary>
    public LiftJudgement? Judge(Place at)
    {
        if (_all.At(at) is not { } lift)
        {
            return null;
        }

        // The maker's figure holds whatever the others show: lobes also wear all alike.
        var (least, alone) = (input.Limits[Least], _all.Count == 1);
        return input.Limits.IsOwn(Least) && (alone || lift < least) ? Against(at, lift, least, "the least allowed", Least)
            : !alone ? Against(at, lift, _all.SoundLevel * input.Limits[Share] / 100, $"{Words.Percent(input.Limits[Share])} of the sound ones' {Words.Length(_all.SoundLevel)},", Share)
            : lift < least ? Against(at, lift, least, "the least that opens a cylinder enough,", Least)
            : lift >= input.Limits[Usual] ? new(lift, false, $"{Name} {Words.Length(lift)}, as usual; no other cylinder to compare it with.")
            : new(lift, null, $"{Name} {Words.Length(lift)}, less than usual, but engines differ: measure a cylinder that pulls, and compare.");
    }

    private LiftJudgement Against(Place at, double lift, double least, string rule, string limit)
    {
        var (general, says) = (!input.Limits.IsOwn(limit), $"{rule} {Words.Length(least)} ({input.Whose(limit)})");
        return _all.Stands(at, least, input.Limits[Apart]) switch
        {
            Standing.Like => new(lift, false, $"{Name} {Words.Length(lift)}, not below {says}.", general),
            Standing.Below => new(lift, true, $"{Name} {Words.Length(lift)}, below {says}.", general),
            Standing.LostInScatter => new(lift, null, $"{Name} {Words.Length(lift)}, below {says}, but the others differ among themselves nearly as much: set the dial gauge square to the valve and measure all again.", general),
            Standing.TrialsApart => new(lift, null, $"{Name}: the trials lie between {Words.Length(_all.Trials(at).Lowest)} and {Words.Length(_all.Trials(at).Highest)}, on both sides of {says}: set the dial gauge again and turn two full turns.", general, true),
            var other => throw new InvalidOperationException($"Unknown standing {other}."),
        };
    }
}
