using System.Collections.Immutable;
using System.Globalization;
using ShopDiag.Estimates;
using ShopDiag.Reports.Models;
using ShopDiag.Storage.Orders;
using ShopDiag.Storage.Shop;
using ShopDiag.Web.Estimates;
using ShopDiag.Web.Orders;

namespace ShopDiag.Web.Papers;

/// <summary>Lines, totals and approvals of an order as the papers show them.</summary>
internal sealed class MoneyOnPapers(RepairOrder order, ShopSettings settings, ShopClock clock)
{
    /// <summary>The estimate on the customer report; null while it has no lines.</summary>
    public EstimateOnPaper? Estimate()
    {
        var shown = order.Estimate.Where(l => !l.Removed).ToList();
        if (shown.Count == 0)
        {
            return null;
        }

        var (needed, advised) = (Group(LineChoice.Needed), Group(LineChoice.Advised));
        return new()
        {
            NeededNow = needed,
            Advised = advised.Lines.IsEmpty ? null : advised,
            Together = advised.Lines.IsEmpty ? null : Totals(shown),
            HeldBackReason = shown.Any(l => l.Held) ? "No reading proves the cause of these parts yet, so we do not sell or order them." : "",
            RoundingNote = Rounding.InWords,
            LegalText = settings.Pricing.TermsInForce,
            Approvals = Approvals(),
        };

        EstimateGroup Group(LineChoice choice)
        {
            var lines = shown.Where(l => l.Choice == choice).ToList();
            return new() { Lines = [.. lines.Select(l => Line(l, NoteOf(l)))], Totals = Totals(lines) };
        }
    }

    /// <summary>True when there is an invoice to write: work was approved or has begun, and it comes to at least one line.</summary>
    public static bool HasSomethingToBill(RepairOrder order)
    {
        ArgumentNullException.ThrowIfNull(order);
        return (order.Approval.AnyYes || order.Stage.HasReached(OrderStage.AwaitingParts)) && BilledLines(order).Count > 0;
    }

    /// <summary>The lines that were approved, or all that count where nobody was asked, as the invoice bills them; parts that were sent back are not billed.</summary>
    public ImmutableArray<MoneyLine> Billed() => [.. BilledLines().Select(l => Line(l, Fitted(l)))];

    /// <summary>Their totals.</summary>
    public TotalsOnPaper BilledTotals() => Totals(BilledLines());

    /// <summary>Deposits on old parts, charged and given back.</summary>
    public ImmutableArray<CoreOnPaper> Cores() =>
    [
        .. order.Parts.Where(p => p.CoreMinor > 0 && p.State != PartState.Returned).Select(p => new CoreOnPaper(
            p.Text, p.CoreBack ? "old part given back" : "old part not given back yet", Say(p.CoreMinor * p.Quantity), p.CoreBack ? Say(p.CoreMinor * p.Quantity) : "")),
    ];

    /// <summary>What is left to pay: the total less the deposits given back, each with its tax.</summary>
    public string Due()
    {
        var credit = order.Parts.Where(p => p is { CoreBack: true, CoreMinor: > 0 } && p.State != PartState.Returned).Sum(Credit);
        return credit == 0 ? "" : Say(EstimateTotals.Of(BilledLines()).Total - credit);
    }

    /// <summary>What was said, oldest first.</summary>
    public ImmutableArray<ApprovalOnPaper> Approvals() => [.. order.Approvals.Select(a => new ApprovalOnPaper
    {
        What = What(a),
        Amount = Say(a.ApprovedMinor),
        By = a.Person,
        How = EstimateWords.Of(a.Way) + (a.Contact.Length > 0 ? $", {a.Contact}" : ""),
        When = clock.Date(a.At), // "today" would be wrong tomorrow.
        Signature = a.Signature is { } signature ? new() { Strokes = [.. signature.Strokes.Select(Points)], Aspect = Math.Clamp(signature.Aspect, 0.2, 20) } : null,
    })];

    private static string What(Approval approval)
    {
        var (yes, no) = (approval.Decisions.Where(d => d.Yes).Select(d => d.Text).ToList(), approval.Decisions.Where(d => !d.Yes).Select(d => d.Text).ToList());
        return no.Count == 0 ? "everything asked" : yes.Count == 0 ? "nothing" : $"{string.Join(", ", yes)}; not {string.Join(", ", no)}";
    }

    private static ImmutableArray<InkPoint> Points(ImmutableArray<double> stroke) =>
        [.. Enumerable.Range(0, stroke.Length / 2).Select(i => new InkPoint(stroke[2 * i], stroke[(2 * i) + 1]))];

    private static List<EstimateLine> BilledLines(RepairOrder order) =>
        [.. order.Estimate.Where(l => l.Counts && (order.Approvals.IsEmpty || order.Approval.Of(l.Id) == Decided.Yes)).Select(l => WithoutReturned(l, order.Parts)).Where(l => l.Thousandths > 0)];

    private static EstimateLine WithoutReturned(EstimateLine line, ImmutableArray<PartOnOrder> parts)
    {
        var pieces = parts.Where(p => p.LineId == line.Id).ToList();
        return pieces.Exists(p => p.State == PartState.Returned)
            ? line with { Thousandths = Math.Min(line.Thousandths, 1000L * pieces.Where(p => p.State != PartState.Returned).Sum(p => p.Quantity)) }
            : line;
    }

    private List<EstimateLine> BilledLines() => BilledLines(order);

    private long Credit(PartOnOrder part)
    {
        var core = part.CoreMinor * part.Quantity;
        return core + Rounding.Share(core, order.Estimate.FirstOrDefault(l => l.Id == part.LineId)?.TaxBasisPoints ?? 0);
    }

    private MoneyLine Line(EstimateLine line, string note)
    {
        var amounts = LineAmounts.Of(line);
        return new()
        {
            Text = line.Text,
            Note = note,
            Quantity = EstimateWords.Quantity(line),
            UnitPrice = line.PriceMinor is { } price ? Money.Plain(price, settings.Currency) : "",
            Discount = line.DiscountBasisPoints > 0 ? $"\u2212{Money.Plain(amounts.Discount, settings.Currency)}" : "",
            TaxCode = line.TaxBasisPoints > 0 ? CodeOf(line.TaxBasisPoints) : "",
            Amount = line.PriceMinor is null ? "" : Say(amounts.Net),
            HeldBack = line.Held,
        };
    }

    private string NoteOf(EstimateLine line) => Join(
        line.Position, line.Together ? "replaced together" : "", line.CoreMinor > 0 ? $"with {Say(LineAmounts.Of(line).Core)} deposit on the old part" : "", line.PriceMinor is null ? "price follows" : "");

    private string Fitted(EstimateLine line)
    {
        var parts = order.Parts.Where(p => p.LineId == line.Id && p.State == PartState.Fitted).ToList();
        var waiting = order.Stage.HasReached(OrderStage.RepairCheck) ? order.Parts.Where(p => p.LineId == line.Id && p.State is not (PartState.Fitted or PartState.Returned)).Sum(p => p.Quantity) : 0;
        return Join(line.Position, waiting == 0 ? "" : parts.Count == 0 ? "not fitted" : string.Create(CultureInfo.InvariantCulture, $"{waiting} of them not fitted"), string.Join(", ", parts.Select(p => string.Join(' ', new[] { p.Maker, p.PartNumber }.Where(t => t.Length > 0))).Where(t => t.Length > 0).Distinct()));
    }

    private TotalsOnPaper Totals(IReadOnlyCollection<EstimateLine> lines)
    {
        var totals = EstimateTotals.Of(lines);
        return new()
        {
            // The lines stand after their discounts, so the sum above the tax does too.
            Subtotal = Say(totals.Net),
            Discounts = totals.Discounts > 0 ? $"{Say(totals.Discounts)} taken off above" : "",
            Taxes = [.. totals.Taxes.Select(t => new TaxOnPaper(CodeOf(t.BasisPoints), $"{settings.Pricing.TaxName} {EstimateWords.Percent(t.BasisPoints)}", Say(t.On), Say(t.Tax)))],
            Total = Say(totals.Total),
        };
    }

    // Rates are few: lettered from the lowest, the same on every paper of the order.
    private string CodeOf(int basisPoints)
    {
        var rates = order.Estimate.Where(l => l is { Removed: false, TaxBasisPoints: > 0 }).Select(l => l.TaxBasisPoints).Distinct().Order().ToList();
        return rates.Count <= 26 ? ((char)('A' + rates.IndexOf(basisPoints))).ToString() : EstimateWords.Percent(basisPoints);
    }

    private string Say(long minor) => Money.Say(minor, settings.Currency);

    private static string Join(params string[] notes) => string.Join(", ", notes.Where(n => n.Length > 0));
}
