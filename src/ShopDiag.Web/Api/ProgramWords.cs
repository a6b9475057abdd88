using ShopDiag.Storage.Programs;
using ShopDiag.Web.Orders;

namespace ShopDiag.Web.Api;

/// <summary>What a token may do, in words.</summary>
internal static class ProgramWords
{
    /// <summary>Beside a box to tick.</summary>
    public static string Of(TokenGrant grant) => grant switch
    {
        TokenGrant.WorkOut => "Diagnosis and recordings",
        TokenGrant.Papers => "Parts lists and bench sheets",
        TokenGrant.CustomerPapers => "Customer reports and invoices",
        TokenGrant.Figures => "Comebacks and other figures",
        _ => throw new ArgumentOutOfRangeException(nameof(grant), grant, "Unknown grant."),
    };

    /// <summary>Why a token does not hold; null while it does.</summary>
    public static string? Ended(ProgramToken token, bool makerStands, ShopClock clock)
    {
        ArgumentNullException.ThrowIfNull(token);
        ArgumentNullException.ThrowIfNull(clock);
        return token switch
        {
            { RevokedAt: { } at } => $"revoked {clock.Say(at)} by {token.RevokedBy}.",
            { ExpiresAt: { } end } when end <= clock.UtcNow => $"it was over {clock.Say(end)}.",
            _ when !makerStands => $"{token.MadeBy}, who made it, is no owner any more.",
            _ => null,
        };
    }

    /// <summary>What it gives away.</summary>
    public static string Gives(TokenGrant grant) => grant switch
    {
        TokenGrant.WorkOut => "Works out what the program sends. It sees nothing of the shop.",
        TokenGrant.Papers => "Of every order: car and VIN, engine, readings, parts. Nothing of customers, no prices.",
        TokenGrant.CustomerPapers => "Of every order: the customer's name, telephone number and e-mail, the car, what it costs.",
        TokenGrant.Figures => "How many repairs and how many came back, also by technician.",
        _ => throw new ArgumentOutOfRangeException(nameof(grant), grant, "Unknown grant."),
    };
}
