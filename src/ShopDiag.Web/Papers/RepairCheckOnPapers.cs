using ShopDiag.Diagnosis;
using ShopDiag.Diagnosis.BenchTests;
using ShopDiag.Diagnosis.Workups;
using ShopDiag.Reports.Models;
using ShopDiag.Storage.Orders;
using ShopDiag.Web.Components.WorkupViews;

namespace ShopDiag.Web.Papers;

/// <summary>The readings before and after the repair side by side, for paper and screen.</summary>
public sealed class RepairCheckOnPapers(Knowledge knowledge, ShopUnits units)
{
    /// <summary>The table; null while nothing was taken after the repair.</summary>
    public RepairCheckOnPaper? Of(Workup workup)
    {
        ArgumentNullException.ThrowIfNull(workup);
        var check = RepairCheck.Of(workup, knowledge);
        var last = workup.Readings.LastOrDefault(r => r.Stage == Stage.After);
        return check.Verdict == RepairVerdict.NotTaken ? null : new()
        {
            Verdict = check.InWords,
            Passed = check.Verdict == RepairVerdict.Good,
            By = last?.By ?? "",
            Lines = Lines(workup, check),
        };
    }

    /// <summary>What was noted on the order beside the readings.</summary>
    public static System.Collections.Immutable.ImmutableArray<string> Notes(RepairOrder order)
    {
        ArgumentNullException.ThrowIfNull(order);
        var codes = order.CodesCleared switch { "Yes" => "Codes cleared after the repair.", "No" => "Codes not cleared after the repair.", _ => "" };
        return [.. new[] { codes, order.MonitorsNoted.Length > 0 ? $"Monitors after the road check: {order.MonitorsNoted}" : "" }.Where(n => n.Length > 0)];
    }

    /// <summary>The lines of a check, those not taken again too.</summary>
    public System.Collections.Immutable.ImmutableArray<RepairCheckLine> Lines(Workup workup, RepairCheck check)
    {
        ArgumentNullException.ThrowIfNull(workup);
        ArgumentNullException.ThrowIfNull(check);
        return [.. check.Pairs.Select(p => new RepairCheckLine(
            knowledge.Test(p.Test)?.Title ?? p.Test, p.At.ToString(), Say(p.Before, workup), Say(p.After, workup), Outcome(p, workup), p.TroubleAfter ? Verdict.Bad : p.IsSettled ? Verdict.Good : Verdict.Neutral))];
    }

    private string Outcome(RepairCheckPair pair, Workup workup) => pair switch
    {
        { After: null } when knowledge.Test(pair.Test) is { } test && workup.IsBarred(test, pair.At) => "could not be taken again",
        { After: null } => "not taken again",
        { IsSettled: false } => "cannot tell",
        { TroubleAfter: true } => "still wrong",
        { TroubleBefore: true } => "mended",
        _ => "good",
    };

    private string Say(Finding? finding, Workup workup)
    {
        if (finding is null)
        {
            return "";
        }

        var test = knowledge.Test(finding.Test)!;
        var readings = workup.Readings.Where(r => r.Test == test.Id && r.At == finding.At && r.Stage == finding.Stage);
        var figure = finding.Aspect == test.Id ? CellFigure.Of(test, [.. readings], finding, units) : "";
        var unit = figure.Length > 0 && !figure.Contains('/', StringComparison.Ordinal) ? CellFigure.UnitOf(test, units).Replace(", ", " ", StringComparison.Ordinal) : "";
        var word = finding.Outcome is { } id ? knowledge.Aspect(finding.Aspect)!.Value.Aspect.Outcomes.First(o => o.Id == id).Word : "cannot tell";
        return figure.Length == 0 ? word : $"{figure}{(unit.Length > 0 ? " " + unit : "")}, {word}";
    }
}
