using System.Collections.Immutable;
using ShopDiag.Diagnosis;
using ShopDiag.Signals.Cancellations;
using ShopDiag.Signals.Speed;
using ShopDiag.Signals.SpeedLogs;
using ShopDiag.Storage.Recordings;

namespace ShopDiag.Web.BalanceRuns;

/// <summary>What becomes of a drop.</summary>
public enum DropFate
{
    /// <summary>It goes on the sheet as a reading of its cylinder.</summary>
    Counts,

    /// <summary>It belongs to no cylinder yet, or cannot be measured: the technician decides, or takes it again.</summary>
    Open,

    /// <summary>The turn was taken back, or the technician said that it is no cylinder's.</summary>
    LeftOut,
}

/// <summary>A drop with what becomes of it.</summary>
/// <param name="Measured">As the finder measured it.</param>
/// <param name="Cylinder">The cylinder it is given to, or null.</param>
/// <param name="Fate">What becomes of it.</param>
/// <param name="ByHand">True when the technician gave it to its cylinder.</param>
public sealed record RunDrop(CancelledDrop Measured, int? Cylinder, DropFate Fate, bool ByHand)
{
    /// <summary>By what a drop is known from one analysis to the next: its start to a tenth of a second.</summary>
    public double Key => KeyOf(Measured.Start);

    /// <summary>The same for a start.</summary>
    public static double KeyOf(double start) => Math.Round(start, 1, MidpointRounding.AwayFromZero);
}

/// <summary>What a recording came to.</summary>
/// <param name="Trace">The speed over time.</param>
/// <param name="Drops">The drops, in order of time.</param>
/// <param name="Usable">True when nothing speaks against the run as a whole.</param>
/// <param name="Reasons">What speaks against it, and what else is to be known.</param>
/// <param name="WanderRpm">How far the speed wanders by itself, rpm.</param>
public sealed record RunAnalysis(SpeedTrace Trace, ImmutableArray<RunDrop> Drops, bool Usable, ImmutableArray<string> Reasons, double WanderRpm)
{
    // What the finder allows for the hand that is early or late; two turns are always further apart.
    private const double Early = 0.7;
    private const double Late = 2;

    /// <summary>A fall that nobody announced and that is smaller than this share of the others is the idle wandering, or an overshoot that decays: shown, but nobody's cylinder.</summary>
    private const double SmallShare = 0.4;

    /// <summary>Goes over a recording. The error says what is wrong with it or what is to be chosen. Takes seconds: call it beside the circuit.</summary>
    public static Parsed<RunAnalysis> Of(BalanceRecording recording, Stream file)
    {
        ArgumentNullException.ThrowIfNull(recording);
        ArgumentNullException.ThrowIfNull(file);
        var trace = TraceOf(recording, file);
        return trace.IsValid ? Of(recording.Cylinders, recording.Plan, trace.Value) : trace.Error!;
    }

    /// <summary>The same from a trace.</summary>
    public static RunAnalysis Of(int cylinders, RecordingPlan plan, SpeedTrace trace)
    {
        ArgumentNullException.ThrowIfNull(plan);
        ArgumentNullException.ThrowIfNull(trace);
        var run = CancellationFinder.Find(trace, new()
        {
            Cylinders = cylinders,
            Order = plan.Times.IsEmpty ? plan.Order : [],
            Times = [.. plan.Times.Select(t => new Announced(t.Cylinder, t.From, t.To))],
        });
        ImmutableArray<RunDrop> drops = [.. run.Drops.Select(d => Judge(d, plan, UsualOf(run)))];
        var reasons = run.Reasons.Except(drops.Where(d => d.Fate == DropFate.LeftOut).SelectMany(AboutIt)).ToImmutableArray();
        return new(trace, drops, reasons.Length == trace.Remarks.Length && drops.Any(d => d.Fate == DropFate.Counts), reasons, run.WanderRpm);
    }

    private static Parsed<SpeedTrace> TraceOf(BalanceRecording recording, Stream file)
    {
        if (recording.Kind == RecordingKind.SpeedLog)
        {
            return SpeedLog.Read(file, new() { SpeedColumn = recording.Plan.SpeedColumn, Time = UnitOf(recording.Plan.TimeUnit) });
        }

        var engine = EngineToHear.Create(recording.Cylinders, recording.Plan.RoughRpm);
        return engine.IsValid ? SoundSpeed.Read(file, engine.Value) : engine.Error!;
    }

    private static double UsualOf(BalanceRun run)
    {
        double[] heard = [.. run.Drops.Where(d => d is { Kind: DropKind.Heard, Cylinder: not null }).Select(d => d.Drop).Order()];
        return heard.Length < 2 ? 0 : heard[heard.Length / 2];
    }

    private static RunDrop Judge(CancelledDrop drop, RecordingPlan plan, double usual)
    {
        if (plan.Given.LastOrDefault(g => RunDrop.KeyOf(g.Start) == RunDrop.KeyOf(drop.Start)) is { } given)
        {
            return given.Cylinder > 0
                ? new(drop, given.Cylinder, drop.Kind is DropKind.Incomplete or DropKind.Unclear ? DropFate.Open : DropFate.Counts, ByHand: true)
                : new(drop, null, DropFate.LeftOut, ByHand: true);
        }

        if (plan.Times.Any(t => t.TakenBack && drop.Start >= t.From - Early && drop.Start <= t.To + Late))
        {
            return new(drop, drop.Cylinder, DropFate.LeftOut, ByHand: false);
        }

        if (drop.Kind == DropKind.Unannounced && drop.Drop < SmallShare * usual)
        {
            return new(drop, null, DropFate.LeftOut, ByHand: false);
        }

        var counts = drop is { Cylinder: not null, Problem: null, Kind: DropKind.Heard or DropKind.NoDrop };
        return new(drop, drop.Cylinder, counts ? DropFate.Counts : DropFate.Open, ByHand: false);
    }

    /// <summary>The finder's words on one drop, which no longer matter when it is left out.</summary>
    private static IEnumerable<string> AboutIt(RunDrop drop) =>
    [
        FormattableString.Invariant($"At {drop.Measured.Start:0} s: {drop.Measured.Problem}"),
        FormattableString.Invariant($"At {drop.Measured.Start:0} s the speed fell by {drop.Measured.Drop:0} rpm although no cylinder was announced."),
    ];

    private static LogTime? UnitOf(string? unit) => unit switch
    {
        "s" => LogTime.Seconds,
        "ms" => LogTime.Milliseconds,
        "us" => LogTime.Microseconds,
        _ => null,
    };
}
