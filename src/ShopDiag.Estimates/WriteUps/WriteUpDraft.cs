using System.Collections.Immutable;
using System.Globalization;
using ShopDiag.Diagnosis;
using ShopDiag.Diagnosis.BenchTests;
using ShopDiag.Diagnosis.Workups;

namespace ShopDiag.Estimates;

/// <summary>What the write-up of an order is drafted from.</summary>
public sealed record WriteUpSource
{
    /// <summary>The concern in the customer's words.</summary>
    public string ConcernText { get; init; } = "";

    /// <summary>Lamp, codes, conditions.</summary>
    public Concern Concern { get; init; } = new();

    /// <summary>What the readings add up to; null while no engine is chosen.</summary>
    public Assessment? Assessment { get; init; }

    /// <summary>The finding taken over; null while there is none.</summary>
    public Conclusion? Finding { get; init; }

    /// <summary>Why it was taken over without proof; null when proven.</summary>
    public string? UnprovenReason { get; init; }

    /// <summary>The parts that are on the car.</summary>
    public ImmutableArray<PartOnOrder> Fitted { get; init; } = [];

    /// <summary>True once the repair has been made.</summary>
    public bool Repaired { get; init; }
}

/// <summary>Concern, cause and correction, drafted from the order in plain trade language. The same order, the same words.</summary>
public static class WriteUpDraft
{
    private static readonly ImmutableDictionary<string, string> Conditions = new Dictionary<string, string>
    {
        ["idle"] = "at idle", ["load"] = "under load", ["cold"] = "with a cold engine", ["hot"] = "with a hot engine", ["wet"] = "in wet weather", ["always"] = "at all times",
        ["after-work"] = "since recent work on the car",
    }.ToImmutableDictionary();

    /// <summary>What the customer says, and what the lamp and the codes say. Empty while nothing is known.</summary>
    public static string Concern(WriteUpSource source)
    {
        ArgumentNullException.ThrowIfNull(source);
        var concern = source.Concern;
        return Sentences(
            source.ConcernText.Trim() is { Length: > 0 } said ? $"Customer states: {said}" : "",
            concern.When.IsEmpty ? "" : $"It happens {Listed([.. concern.When.Select(w => Conditions.GetValueOrDefault(w, w))])}",
            concern.Lamp switch { Lamp.Flashing => "Warning lamp flashing", Lamp.Steady => "Warning lamp lit", Lamp.Off => "Warning lamp off", _ => "" },
            concern.Codes.IsEmpty ? "" : $"Codes stored: {string.Join(", ", concern.Codes)}");
    }

    /// <summary>What was found and how it is known. Empty while nothing has been found.</summary>
    public static string Cause(WriteUpSource source, Knowledge knowledge)
    {
        ArgumentNullException.ThrowIfNull(source);
        ArgumentNullException.ThrowIfNull(knowledge);
        if (source.Finding is not { } finding)
        {
            return "";
        }

        var cylinders = source.Assessment?.Cylinders.Where(c => c.State is CylinderCondition.Dead or CylinderCondition.Weak or CylinderCondition.Misfiring)
            .Select(c => $"cylinder {c.Cylinder} {Word(c.State)}").ToList() ?? [];
        return Sentences(
            cylinders.Count > 0 ? $"Found {Listed(cylinders)}" : "",
            string.Join(" ", finding.Causes.Select(c => Sentence($"{knowledge.Cause(c.Cause)?.Title ?? c.Cause}, {c.At}"))),
            source.UnprovenReason is { } reason ? $"Not proven; gone on with because {LowerFirst(reason.Trim().TrimEnd('.'))}" : "",
            string.Join(" ", finding.Proof.Select(p => Sentence($"{knowledge.Test(p.Test)?.Title ?? p.Test}, {p.At}: {p.Because}"))));
    }

    /// <summary>What was done and what the readings after it say. Before the repair: what is to be done. Empty while nothing has been found.</summary>
    public static string Correction(WriteUpSource source, Knowledge knowledge)
    {
        ArgumentNullException.ThrowIfNull(source);
        ArgumentNullException.ThrowIfNull(knowledge);
        if (source.Finding is not { } finding)
        {
            return "";
        }

        var fitted = source.Fitted.Select(p => $"{p.Quantity} × {p.Text}{(p.Position.Length > 0 ? $" ({p.Position})" : "")}{(p.PartNumber.Length > 0 ? $", number {p.PartNumber}" : "")}").ToList();
        var after = source.Assessment?.Findings.Where(f => f is { Stage: Stage.After, Outcome: not null })
            .GroupBy(f => (Test: knowledge.Test(f.Test)?.Title ?? f.Test, Word: OutcomeWord(f, knowledge)))
            .Select(g => $"{g.Key.Test}, {Places([.. g.Select(f => f.At).Distinct()])}: {g.Key.Word}").ToList() ?? [];
        return Sentences(
            $"{(source.Repaired ? "Done" : "To do")}: {LowerFirst(finding.Repair.Summary)}",
            fitted.Count > 0 ? $"Fitted: {string.Join("; ", fitted)}" : "",
            after.Count > 0 ? $"Readings after the repair: {string.Join("; ", after)}" : "");
    }

    private static string OutcomeWord(Finding finding, Knowledge knowledge) =>
        knowledge.Aspect(finding.Aspect)?.Aspect.Outcomes.FirstOrDefault(o => o.Id == finding.Outcome)?.Word ?? finding.Outcome!;

    private static string Places(List<Place> places) => places.Count > 1 && places.TrueForAll(p => p.Kind == PlaceKind.Cylinder)
        ? $"cylinders {Listed([.. places.Select(p => p.First.ToString(CultureInfo.InvariantCulture))])}"
        : Listed([.. places.Select(p => p.ToString())]);

    private static string Word(CylinderCondition state) => state switch
    {
        CylinderCondition.Dead => "dead",
        CylinderCondition.Weak => "weak",
        _ => "misfiring",
    };

    private static string Listed(List<string> items) => items.Count == 1 ? items[0] : $"{string.Join(", ", items.Take(items.Count - 1))} and {items[^1]}";

    private static string Sentences(params string[] sentences) => string.Join(" ", sentences.Where(s => s.Trim().Length > 0).Select(Sentence));

    private static string Sentence(string text) => text.TrimEnd() is var t && t.Length > 0 && t[^1] is '.' or '!' or '?' or '”' ? t : t + ".";

    private static string LowerFirst(string text) => text.Length < 2 || char.IsUpper(text[1]) ? text : char.ToLowerInvariant(text[0]) + text[1..];
}
