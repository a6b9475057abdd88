using Microsoft.EntityFrameworkCore;
using ShopDiag.Estimates;
using ShopDiag.Storage.Orders;
using ShopDiag.Storage.Rows;
using ShopDiag.Storage.Writing;

namespace ShopDiag.Storage.Estimates;

/// <summary>Keeps an approval.</summary>
internal static class ApprovalCommand
{
    private const int MostLetters = 300;

    public static async Task<SaveResult> KeepAsync(WriteScope write, OrderRow order, Approval approval)
    {
        var lines = await EstimateLines.OfAsync(write, order.Id).ConfigureAwait(false);
        if (Fault(approval) is { } fault)
        {
            return new(SaveOutcome.Refused, "", fault);
        }

        var counting = lines.Where(l => l.Counts).ToDictionary(l => l.Id);
        if (approval.Decisions.Any(d => !counting.TryGetValue(d.Line, out var line) || LineAmounts.Of(line).Total != d.TotalMinor))
        {
            return new(SaveOutcome.Conflict, "", "The estimate was changed meanwhile. Look at the amounts again and tell the customer before you save what was said.");
        }

        if (approval.Decisions.FirstOrDefault(d => d.Yes && counting[d.Line].PriceMinor is null) is { } unpriced)
        {
            return new(SaveOutcome.Refused, "", $"“{unpriced.Text}” has no price yet: nobody can approve it.");
        }

        var last = await write.Db.Approvals.Where(a => a.OrderId == order.Id).MaxAsync(a => (int?)a.Sequence).ConfigureAwait(false) ?? 0;
        write.Db.Approvals.Add(ApprovalRow.Of(Tidy(approval, write.Now), order.Id, last + 1));
        await EstimateLines.KeepPartsAsync(write, order.Id, lines, approval.By).ConfigureAwait(false);
        return new(SaveOutcome.Saved, "");
    }

    private static string? Fault(Approval approval) => approval switch
    {
        { Decisions: { IsDefaultOrEmpty: true } } => "Say of each line whether it was approved.",
        { Person: var person } when PlainText.Line(person).Length == 0 => "Write down who decided.",
        { Way: ApprovalWay.InPerson, Signature: null } when approval.Decisions.Any(d => d.Yes) => "Somebody who approves in person signs. On the telephone or in writing: choose that.",
        { Way: ApprovalWay.Phone, Contact: var number } when PlainText.Line(number).Length == 0 => "Write down the number that was called.",
        { Way: ApprovalWay.Writing, Contact: var letter } when PlainText.Line(letter).Length == 0 => "Write down which letter or message it was.",
        { Signature: { } signature } when signature.Fault is { } fault => fault,
        _ when approval.Person.Length > MostLetters || approval.Contact.Length > MostLetters || approval.Note.Length > 2000 => "That is too long to keep. Shorten it.",
        _ => null,
    };

    private static Approval Tidy(Approval approval, DateTime now) => approval with
    {
        At = now, By = PlainText.Line(approval.By), Person = PlainText.Line(approval.Person), Contact = PlainText.Line(approval.Contact), Note = PlainText.Lines(approval.Note),
    };
}
