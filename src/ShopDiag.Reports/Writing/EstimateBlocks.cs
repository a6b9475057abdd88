using ShopDiag.Reports.Models;

namespace ShopDiag.Reports.Writing;

/// <summary>Adds an estimate to a paper: needed now, then advised, each with its sums, then the terms.</summary>
internal static class EstimateBlocks
{
    private const string NeededNow = "Needed now";
    private const string Advised = "Advised, can wait";

    /// <summary>Adds the whole estimate. The notes and terms stand beside the last sums.</summary>
    public static void Add(PaperBuilder paper, EstimateOnPaper estimate)
    {
        if (estimate.Advised is not { } advised)
        {
            MoneyTables.AddLines(paper, NeededNow, estimate.NeededNow.Lines);
            MoneyTables.AddSums(paper, MoneyTables.Sums(estimate.NeededNow.Totals), left => AddTerms(left, estimate));
            return;
        }

        AddGroup(paper, NeededNow, estimate.NeededNow);
        AddGroup(paper, Advised, advised);
        var together = estimate.Together is { } all ? MoneyTables.Sums(all, "Both together") : [];
        MoneyTables.AddSums(paper, together, left => AddTerms(left, estimate));
    }

    private static void AddGroup(PaperBuilder paper, string title, EstimateGroup group)
    {
        MoneyTables.AddLines(paper, title, group.Lines);
        MoneyTables.AddSums(paper, MoneyTables.Sums(group.Totals, $"Total, {char.ToLowerInvariant(title[0])}{title[1..]}"), _ => { });
    }

    private static void AddTerms(PaperBuilder paper, EstimateOnPaper estimate)
    {
        var held = estimate.NeededNow.Lines.Concat(estimate.Advised?.Lines ?? []).Any(line => line.HeldBack);
        if (held && !string.IsNullOrWhiteSpace(estimate.HeldBackReason))
        {
            paper.Paragraph("Held back:", estimate.HeldBackReason, bar: true);
        }

        paper.SmallPrint(estimate.RoundingNote);
        paper.SmallPrint(estimate.LegalText);
    }
}
