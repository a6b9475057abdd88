using ShopDiag.Diagnosis.BenchTests.CompressionDry;
using ShopDiag.Diagnosis.Statistics;

namespace ShopDiag.Diagnosis.BenchTests.CompressionRunning;

/// <summary>How one side of a running reading lies.</summary>
internal enum RunningLevel
{
    /// <summary>As it should.</summary>
    Right,

    /// <summary>Too low.</summary>
    Low,

    /// <summary>Too high: it does not empty.</summary>
    High,

    /// <summary>Far above the others, which may be too low themselves; a snap only, where no general most is known.</summary>
    PerhapsHigh,

    /// <summary>Low, but the others scatter as widely.</summary>
    LostInScatter,

    /// <summary>The trials lie on both sides of the least or the most.</summary>
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

    /// <summary>What stands above so many others does so by itself; beside fewer it may be they that are low.</summary>
    private const int ManyOthers = 3;

    private readonly EvaluationInput _input;
    private readonly string _side;
    private readonly double? _dry;
    private readonly bool _dryIsSound;

    public RunningSide(EvaluationInput input, string side)
    {
        (_input, _side, All) = (input, side, new Beside(input, $"{side}KPa"));
        // What a sound cylinder of this engine pumps up when cranked: a leaking one's own dry reading would excuse its low running one.
        Workups.Finding[] dry = [.. input.Earlier.Where(f => f.Test == "compression-dry" && f.Measure > 0)];
        Workups.Finding[] sound = [.. dry.Where(f => f.Outcome == "good")];
        _dryIsSound = sound.Length > 0;
        _dry = dry.Length == 0 ? null : Robust.SoundLevel((_dryIsSound ? sound : dry).Select(f => f.Measure!.Value));
    }

    /// <summary>The readings by cylinder.</summary>
    public Beside All { get; }

    private string OfCranking => $"running-{_side}-percent";

    private string General => $"running-{_side}-least-kpa";

    private bool IsIdle => _side == "idle";

    private double Least => AtAltitude(General);

    private double Most => AtAltitude(MostAtIdle);

    /// <summary>What the side came to at a cylinder, or null where it was not read.</summary>
    public RunningJudgement? Judge(Place at)
    {
        if (All.At(at) is not { } kPa)
        {
            return null;
        }

        var (beside, thumb) = (BesideOthers(at, kPa), _dry is { } dry ? ByThumb(at, kPa, dry) : null);
        return (beside, thumb) switch
        {
            (null, _) => thumb ?? ByGeneral(at, kPa),
            // Alike others may all be low, or high, and scattered ones cannot tell: then the rule of thumb has the word.
            ({ Level: RunningLevel.Right or RunningLevel.LostInScatter }, { Level: RunningLevel.Low or RunningLevel.High }) => thumb,
            _ => beside,
        };
    }

    // Null where no other was read, or the only one does not empty and would make this one look low.
    private RunningJudgement? BesideOthers(Place at, double kPa)
    {
        if (AboveOthers(at, kPa) is { } above)
        {
            var others = All.Others(at)!.Value;
            return TooHigh(at, kPa, others * _input.Limits[High] / 100, $"{Words.Percent(_input.Limits[High])} of the others' {Words.Pressure(others)}", High, above) with { General = false };
        }

        double[] fair = [.. All.Values.Where(v => v.At == at || AboveOthers(v.At, v.Value) != RunningLevel.High).Select(v => v.Value)];
        var (level, share) = (Robust.SoundLevel(fair), _input.Limits[Share]);
        return fair.Length < 2 ? null : Stands(at, kPa, level * share / 100, $"{Words.Percent(share)} of the sound ones' {Words.Pressure(level)}", Share);
    }

    // Beside few others, or beside low ones, it may be they that are wrong: then the general most decides at idle, and at a snap it is left open.
    private RunningLevel? AboveOthers(Place at, double kPa)
    {
        double[] others = [.. All.Values.Where(v => v.At != at).Select(v => v.Value)];
        var by = _input.Limits[High] / 100;
        if (others.Length == 0 || kPa <= Robust.Median(others) * by)
        {
            return null;
        }

        var plainly = (IsIdle && kPa > Most) || (others.Length >= ManyOthers && others.Max() >= Least && kPa > others.Max() * by);
        return plainly ? RunningLevel.High : IsIdle ? null : RunningLevel.PerhapsHigh;
    }

    private RunningJudgement ByThumb(Place at, double kPa, double dry)
    {
        var expected = dry * _input.Limits[OfCranking] / 100;
        var most = expected * _input.Limits[High] / 100;
        // A dry reading that was not good may be that of a cylinder that leaks: then the general most has to be passed as well.
        if (IsIdle && kPa > (_dryIsSound ? most : Math.Max(most, Most)))
        {
            return TooHigh(at, kPa, most, $"{Words.Percent(_input.Limits[High])} of the {Words.Pressure(expected)} that a rule of thumb expects", High);
        }

        var rule = $"{Words.Percent(_input.Limits[Thumb])} of the {Words.Pressure(expected)} that a rule of thumb expects ({Words.Percent(_input.Limits[OfCranking])} of the dry compression, {Words.Pressure(dry)})";
        return Stands(at, kPa, expected * _input.Limits[Thumb] / 100, rule, Thumb);
    }

    private RunningJudgement ByGeneral(Place at, double kPa)
    {
        var judged = IsIdle && kPa > Most ? TooHigh(at, kPa, Most, Words.Pressure(Most), MostAtIdle) : Stands(at, kPa, Least, Words.Pressure(Least), General);
        var with = All.Count > 1 ? "with no other cylinder that is right" : "with no other cylinder";
        return judged with { Words = $"{judged.Words}, {with} and no dry compression to compare it with{CompressionRules.InWords(_input)}" };
    }

    private RunningJudgement TooHigh(Place at, double kPa, double most, string rule, string limit, RunningLevel level = RunningLevel.High)
    {
        var (lowest, highest) = All.Trials(at);
        var apart = lowest <= most && 100 * (highest - lowest) > _input.Limits[Apart] * kPa;
        return new(apart ? RunningLevel.TrialsApart : level, $"{Words.Pressure(kPa)}, above {rule} ({_input.Whose(limit)})", !_input.Limits.IsOwn(limit));
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

    private double AtAltitude(string limit) => CompressionRules.AtAltitude(_input.Limits[limit], _input.Shop.AltitudeMetres, CompressionRules.RuleFor(_input));
}
