using ShopDiag.Diagnosis.BenchTests;
using ShopDiag.Diagnosis.Workups;
using ShopDiag.Web.Components.EngineViews;

namespace ShopDiag.Web.Components.WorkupViews;

/// <summary>An outcome as a cell shows it: the word first, then a pattern, the same patterns as on the engine plan.</summary>
/// <param name="Word">The word on the sheet.</param>
/// <param name="Pattern"><c>none</c>, <c>solid</c>, <c>dots</c>, <c>hatch</c>, <c>cross</c> or <c>stripes</c>.</param>
public sealed record OutcomeMark(string Word, string Pattern)
{
    /// <summary>From this share on an outcome is what a sound engine usually shows, whether or not it is called good (a swap after which the misfire stays).</summary>
    private const double Usual = 0.5;

    /// <summary>Several sides were looked at and none of them speaks of trouble.</summary>
    public const string NothingNoted = "nothing noted";

    /// <summary>Nothing read.</summary>
    public static OutcomeMark Blank { get; } = new("", "none");

    /// <summary>Read, but the numbers cannot tell.</summary>
    public static OutcomeMark CannotTell { get; } = new("can't tell", "stripes");

    /// <summary>Read, but there was nothing to judge: what a given "none" means (no codes are stored), or just that it is noted.</summary>
    public static OutcomeMark Unjudged(BenchTest test, Reading reading)
    {
        return new(NoneWord(test, reading) ?? "noted", "none");
    }

    /// <summary>What the "none" means that a reading gives, or null where it gives something.</summary>
    public static string? NoneWord(BenchTest test, Reading reading)
    {
        ArgumentNullException.ThrowIfNull(test);
        ArgumentNullException.ThrowIfNull(reading);
        return test.Fields
            .FirstOrDefault(f => f.NullMeans is not null && reading.Value.Has(f.Name) && reading.Value.Number(f.Name) is null && reading.Value.Text(f.Name) is null)
            ?.NullMeans;
    }

    /// <summary>The mark of a finding.</summary>
    public static OutcomeMark Of(Finding finding, Aspect aspect)
    {
        ArgumentNullException.ThrowIfNull(finding);
        ArgumentNullException.ThrowIfNull(aspect);
        return finding.Outcome is { } id && aspect.Outcomes.FirstOrDefault(o => o.Id == id) is { } outcome
            ? new(outcome.Word, PatternOf(outcome))
            : CannotTell;
    }

    /// <summary>How far an outcome asks to be looked at; the most pressing of several is shown.</summary>
    public static int Rank(string pattern) => pattern switch
    {
        "cross" => 5,
        "hatch" => 4,
        "dots" => 3,
        "stripes" => 2,
        "solid" => 1,
        "none" => 0,
        _ => throw new ArgumentOutOfRangeException(nameof(pattern), pattern, "Not a pattern."),
    };

    private static string PatternOf(AspectOutcome outcome) => outcome switch
    {
        { State: { } state } => CylinderMark.Of(new CylinderState(1, state, "")).Pattern,
        { Good: true } or { Healthy: >= Usual } => "solid",
        _ => "hatch",
    };
}
