using System.Security.Claims;
using ShopDiag.Storage.People;
using ShopDiag.Storage.Programs;
using ShopDiag.Web.Api;

namespace ShopDiag.Web.People;

/// <summary>Who acts by a sign-in or a token, as the shop knows them now.</summary>
public sealed class Actors(PeopleDirectory people, TokenDirectory tokens, TimeProvider time)
{
    /// <summary>Nobody for one that does not hold any more.</summary>
    public Actor Of(ClaimsPrincipal? principal) => TokenScheme.TokenOf(principal) is { } token ? tokens.ActorOf(token, time.GetUtcNow()) : Session.ActorOf(principal, people, time.GetUtcNow());
}
