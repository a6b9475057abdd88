using ShopDiag.Diagnosis.BenchTests.CompressionDry;
using ShopDiag.Diagnosis.Statistics;
using ShopDiag.Diagnosis.Workups;

namespace ShopDiag.Diagnosis.BenchTests.CompressionRunning;

/// <summary>
/// Compares idle and snap with the other cylinders where any were read, and with the rule of thumb where dry compression is known (idle about half of it, a snap
/// about four fifths); with neither, with a general least and, at idle, most. Too high at idle is named first: gas that cannot leave hides what is low at a snap. Low at idle is named
/// before low at a snap: what leaks or does not fill shows at idle already, what cannot breathe only when much air should go in.
/// </summary>
internal sealed class CompressionRunningEvaluation : ITestEvaluation
{
    /// <inheritdoc/>
    public string Name => "compression-running";

    /// <inheritdoc/>
    public IEnumerable<Finding> Evaluate(EvaluationInput input)
    {
        var (idle, snap) = (new RunningSide(input, "idle"), new RunningSide(input, "snap"));
        return [.. idle.All.Values.Select(i => Judge(input, i.At, i.Value, idle.Judge(i.At)!, snap.Judge(i.At)))];
    }

    private const string DoesNotEmpty = " So high it does not empty: measure the exhaust valve's lift and the exhaust's back pressure.";

    private static Finding Judge(EvaluationInput input, Place at, double idleKPa, RunningJudgement idle, RunningJudgement? snap)
    {
        var says = $"At idle {idle.Words}; at a snap {snap?.Words ?? "not read"}.";
        Finding CannotTell(string what) => input.Finding(at, null, $"{says} {what}", idleKPa);
        Finding Found(string outcome, string remark = "") => input.Finding(at, outcome, says + remark, idleKPa) with { ByDefaultLimit = idle.General || snap is { General: true } };

        return (idle.Level, snap?.Level) switch
        {
            (RunningLevel.TrialsApart, _) or (_, RunningLevel.TrialsApart) =>
                CannotTell("The trials lie on both sides: bleed the gauge before each reading and take it again.") with { TrialsDisagree = true },
            (RunningLevel.High, _) => Found("high", DoesNotEmpty),
            (RunningLevel.Low, RunningLevel.Low) => Found("low-idle", " Low at both: it leaks or does not fill."),
            (RunningLevel.Low, _) => Found("low-idle"),
            (_, RunningLevel.Low) => Found("low-snap", " Right at idle and low when much air should go in: look at the intake valve's lift and at deposits."),
            (RunningLevel.LostInScatter, _) or (_, RunningLevel.LostInScatter) =>
                CannotTell("The other cylinders differ among themselves nearly as much: take them again at the same speed and with the same snap."),
            (_, RunningLevel.High) => Found("high", DoesNotEmpty),
            (_, null) => Found("good", " Whether it breathes shows only at a snap."),
            _ => Found("good"),
        };
    }
}

/// <summary>How one side of a running reading lies.</summary>
internal enum RunningLevel
{
    /// <summary>As it should.</summary>
    Right,

    /// <summary>Too low.</summary>
    Low,

    /// <summary>Too high: it does not empty.</summary>
    High,

    /// <summary>Low, but the others scatter as widely.</summary>
    LostInScatter,

    /// <summary>The trials lie on both sides of the least.</summary>
    TrialsApart,
}

/// <summary>What one side of a running reading came to, in words, and whether a general limit decided.</summary>
internal sealed record RunningJudgement(RunningLevel Level, string Words, bool General);

/// <summary>All idle readings, or all readings at a snap.</summary>
internal sealed class RunningSide
{
    private const string Share = "running-share-percent";
    private const string Thumb = "running-thumb-percent";
    private const string High = "running-high-percent";
    private const string MostAtIdle = "running-idle-most-kpa";
    private const string Apart = "running-trials-percent";
    private readonly EvaluationInput _input;
    private readonly string _side;
    private readonly double? _dry;
    private readonly int _dryCount;

    public RunningSide(EvaluationInput input, string side)
    {
        (_input, _side, All) = (input, side, new Beside(input, $"{side}KPa"));
        // What a sound cylinder of this engine pumps up when cranked: a leaking one's own dry reading would excuse its low running one.
        double[] dry = [.. input.Earlier.Where(f => f.Test == "compression-dry" && f.Measure > 0).Select(f => f.Measure!.Value)];
        _dryCount = dry.Length;
        _dry = dry.Length == 0 ? null : Robust.SoundLevel(dry);
    }

    /// <summary>The readings by cylinder.</summary>
    public Beside All { get; }

    private string OfCranking => $"running-{_side}-percent";

    private string General => $"running-{_side}-least-kpa";

    private bool IsIdle => _side == "idle";

    private double Most => CompressionRules.AtAltitude(_input.Limits[MostAtIdle], _input.Shop.AltitudeMetres, CompressionRules.RuleFor(_input));

    /// <summary>What the side came to at a cylinder, or null where it was not read.</summary>
    public RunningJudgement? Judge(Place at)
    {
        if (All.At(at) is not { } kPa)
        {
            return null;
        }

        var (beside, thumb) = (All.Count > 1 && !StandsBesideAHighOne(at, kPa) ? BesideOthers(at, kPa) : null, _dry is { } dry ? ByThumb(at, kPa, dry) : null);
        return (beside, thumb) switch
        {
            (null, _) => thumb ?? ByGeneral(at, kPa),
            // Alike others may all be low, and scattered ones cannot tell: then the rule of thumb has the word.
            ({ Level: RunningLevel.Right or RunningLevel.LostInScatter }, { Level: RunningLevel.Low }) => thumb,
            _ => beside,
        };
    }

    private RunningJudgement BesideOthers(Place at, double kPa)
    {
        var (level, share) = (All.SoundLevel, _input.Limits[Share]);
        if (kPa > All.Others(at) * _input.Limits[High] / 100)
        {
            return new(RunningLevel.High, $"{Words.Pressure(kPa)}, above {Words.Percent(_input.Limits[High])} of the others' {Words.Pressure(All.Others(at)!.Value)} ({_input.Whose(High)})", false);
        }

        return Stands(at, kPa, level * share / 100, $"{Words.Percent(share)} of the sound ones' {Words.Pressure(level)}", Share);
    }

    // The only other cylinder may be the one that does not empty, and would make this one look low.
    private bool StandsBesideAHighOne(Place at, double kPa) => IsIdle && All.Count == 2 && kPa <= Most && All.Others(at) > Most;

    // One dry reading may be that of a cylinder that leaks: then the general most has to be passed as well.
    private bool IsTooHighFor(double expected, double kPa) => IsIdle && kPa > expected * _input.Limits[High] / 100 && (_dryCount > 1 || kPa > Most);

    private RunningJudgement ByThumb(Place at, double kPa, double dry)
    {
        var expected = dry * _input.Limits[OfCranking] / 100;
        if (IsTooHighFor(expected, kPa))
        {
            return new(RunningLevel.High, $"{Words.Pressure(kPa)}, above {Words.Percent(_input.Limits[High])} of the {Words.Pressure(expected)} that a rule of thumb expects ({_input.Whose(High)})", !_input.Limits.IsOwn(High));
        }

        var rule = $"{Words.Percent(_input.Limits[Thumb])} of the {Words.Pressure(expected)} that a rule of thumb expects ({Words.Percent(_input.Limits[OfCranking])} of the dry compression, {Words.Pressure(dry)})";
        return Stands(at, kPa, expected * _input.Limits[Thumb] / 100, rule, Thumb);
    }

    private RunningJudgement ByGeneral(Place at, double kPa)
    {
        var least = CompressionRules.AtAltitude(_input.Limits[General], _input.Shop.AltitudeMetres, CompressionRules.RuleFor(_input));
        if (IsIdle && kPa > Most)
        {
            return new(RunningLevel.High, $"{Words.Pressure(kPa)}, above {Words.Pressure(Most)} ({_input.Whose(MostAtIdle)}), with no other cylinder and no dry compression to compare it with{CompressionRules.InWords(_input)}", !_input.Limits.IsOwn(MostAtIdle));
        }

        var stands = Stands(at, kPa, least, Words.Pressure(least), General);
        return stands with { Words = $"{stands.Words}, with no other cylinder and no dry compression to compare it with{CompressionRules.InWords(_input)}" };
    }

    private RunningJudgement Stands(Place at, double kPa, double least, string rule, string limit)
    {
        var level = All.Stands(at, least, _input.Limits[Apart]) switch
        {
            Standing.Like => RunningLevel.Right,
            Standing.Below => RunningLevel.Low,
            Standing.LostInScatter => RunningLevel.LostInScatter,
            Standing.TrialsApart => RunningLevel.TrialsApart,
            var other => throw new InvalidOperationException($"Unknown standing {other}."),
        };
        return new(level, $"{Words.Pressure(kPa)}, {(level == RunningLevel.Right ? "not below" : "below")} {rule} ({_input.Whose(limit)})", !_input.Limits.IsOwn(limit));
    }
}
