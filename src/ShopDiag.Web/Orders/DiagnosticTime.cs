using System.Globalization;
using ShopDiag.Diagnosis;
using ShopDiag.Diagnosis.NextStep;
using ShopDiag.Diagnosis.Workups;
using ShopDiag.Storage.Orders;

namespace ShopDiag.Web.Orders;

/// <summary>The diagnostic time that the customer authorised against what the readings usually take, or what the technician says he spent.</summary>
/// <param name="Spent">Minutes so far.</param>
/// <param name="Authorised">Minutes authorised; 0 when none were agreed.</param>
/// <param name="Next">Minutes of the next step.</param>
/// <param name="ByHand">True when the technician said what he spent.</param>
public sealed record DiagnosticTime(double Spent, int Authorised, double Next, bool ByHand)
{
    /// <summary>The time on an order.</summary>
    public static DiagnosticTime Of(RepairOrder order, Assessment? assessment, Knowledge knowledge)
    {
        ArgumentNullException.ThrowIfNull(order);
        var usual = order.ToWorkup(new ShopSetup()) is { } workup ? BenchMinutes.Of(workup, knowledge) : 0;
        // After a finding nothing more is looked for.
        var next = order.Finding is null ? assessment?.Next.FirstOrDefault(n => n.Test is not null)?.Minutes ?? 0 : 0;
        return new(order.MinutesSpent ?? Math.Round(usual, MidpointRounding.AwayFromZero), order.AuthorisedMinutes, next, order.MinutesSpent is not null);
    }

    /// <summary>What is spent of what was authorised; empty before the first reading.</summary>
    public string InWords => Spent == 0 ? "" : string.Create(CultureInfo.InvariantCulture, $"{(ByHand ? "" : "About ")}{Spent:0} min on the bench")
        + (Authorised > 0 ? string.Create(CultureInfo.InvariantCulture, $" of {Authorised} authorised") : "");

    /// <summary>What to do about it; empty while there is enough, or nothing was agreed.</summary>
    public string Warning => Authorised == 0 ? ""
        : Spent > Authorised ? "ask before going on"
        : Next > 0 && Spent + Next > Authorised ? string.Create(CultureInfo.InvariantCulture, $"the next step takes about {Next:0} more, so ask first")
        : "";
}
