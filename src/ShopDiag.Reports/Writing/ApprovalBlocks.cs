using ShopDiag.Reports.Drawing;
using ShopDiag.Reports.Layout;
using ShopDiag.Reports.Models;

namespace ShopDiag.Reports.Writing;

/// <summary>Adds what was approved, and room to sign where nothing was yet.</summary>
internal static class ApprovalBlocks
{
    private const double SignatureShare = 0.3;
    private const double HighestSignature = 40;

    /// <summary>Adds approvals as they were given, each with its signature.</summary>
    public static void Add(PaperBuilder paper, IEnumerable<ApprovalOnPaper> approvals)
    {
        foreach (var approval in approvals)
        {
            if (approval.Signature is not { Strokes.IsEmpty: false } signature)
            {
                AddWords(paper, approval);
                continue;
            }

            var by = paper.Set.Printable.OfTitle(approval.By);
            paper.SideBySide(
                before: 3,
                (1 - SignatureShare, left => AddWords(left, approval)),
                (SignatureShare, right => right.Add(new SignatureFigure(
                    signature, by.Length > 0 ? $"Signature of {by}" : "Signature", right.Width, HighestSignature * (0.5 + (0.5 * paper.Set.Look.Gaps))))));
        }
    }

    /// <summary>Adds the choices of an estimate and lines to sign on.</summary>
    public static void AddRoomToSign(PaperBuilder paper, EstimateOnPaper? estimate)
    {
        paper.Add(new Paragraph([new Run(estimate is null ? CustomerWording.Received : CustomerWording.Order)], paper.Set, paper.Width) { Before = 9, KeepWithNext = true });
        if (estimate is { Advised: not null })
        {
            paper.Add(new CheckBoxBlock([CustomerWording.OrderNow, CustomerWording.OrderAll], paper.Set, paper.Width) { KeepWithNext = true, Before = 1 });
        }

        paper.Add(new SignatureBlock(paper.Set, ("Name", 0.38), ("Date", 0.2), ("Signature", 0.42)));
    }

    private static void AddWords(PaperBuilder paper, ApprovalOnPaper approval)
    {
        string[] facts =
        [
            Fact("up to", approval.Amount), Fact("by", approval.By), approval.How.Trim(), approval.When.Trim(), Fact("reference", approval.Reference),
        ];
        var said = string.Join(", ", facts.Where(f => f.Length > 0)).TrimEnd('.');
        paper.Paragraph("Approved:", approval.What.Trim() + (said.Length > 0 ? $"; {said}." : "."));
    }

    private static string Fact(string word, string value) => string.IsNullOrWhiteSpace(value) ? "" : $"{word} {value.Trim()}";
}
