using System.Security.Claims;
using ShopDiag.Storage.People;

namespace ShopDiag.Web.People;

/// <summary>
/// Who acts in this scope: in a request whoever its cookie or token names, on an open page whoever opened it. An open page keeps its person for life: when somebody else signs in on the tablet, what the
/// first had half typed must not become the second's (see <see cref="Became"/>). Until it has begun, nobody acts.
/// </summary>
public sealed class Acting(Actors actors) : IActing
{
    private ClaimsPrincipal? _principal;
    private bool _isProgram;

    /// <summary>Raised when somebody else has signed in on the tablet of an open page.</summary>
    public event Action? Lapsed;

    /// <inheritdoc/>
    public Actor Current => _isProgram ? Actor.Program : actors.Of(_principal);

    /// <summary>Begins with a sign-in.</summary>
    public void Begin(ClaimsPrincipal principal) => _principal = principal;

    /// <summary>Begins as the program itself: upkeep and the demo shop.</summary>
    public void BeginAsProgram() => _isProgram = true;

    /// <summary>
    /// The connection of an open page came back with this sign-in. Blazor then goes on with the page as if that person had opened it; here the same person goes on, and anybody else is nobody.
    /// </summary>
    public void Became(ClaimsPrincipal principal)
    {
        if (_principal is not null && Session.PersonOf(principal) == Session.PersonOf(_principal))
        {
            _principal = principal;
            return;
        }

        _principal = null;
        Lapsed?.Invoke();
    }
}
