using System.Collections.Frozen;
using ShopDiag.Storage.Programs;

namespace ShopDiag.Storage.People;

/// <summary>How somebody signed in.</summary>
public enum SignInWay
{
    /// <summary>Not at all: the program itself, or nobody.</summary>
    None,

    /// <summary>With a password.</summary>
    Password,

    /// <summary>With a PIN, on a device that the shop knows.</summary>
    Pin,

    /// <summary>With a passkey, whose device has made sure of the person: as good as a password.</summary>
    Passkey,

    /// <summary>Not a person: a program, with a token.</summary>
    Token,
}

/// <summary>Who asks for a change. Every store acts for one; what it may do is checked there, whatever the screen showed.</summary>
public sealed record Actor
{
    private Actor()
    {
    }

    /// <summary>The program itself: verbs on the console, upkeep, the demo shop. May do everything; records name whoever the caller names.</summary>
    public static Actor Program { get; } = new() { IsProgram = true };

    /// <summary>Nobody, or somebody who was signed out meanwhile. May do nothing.</summary>
    public static Actor Nobody { get; } = new();

    /// <summary>The person; null for the program and for nobody.</summary>
    public Guid? PersonId { get; private init; }

    /// <summary>The name that stands in the records; empty without a person.</summary>
    public string Name { get; private init; } = "";

    /// <summary>The role; null without a person.</summary>
    public PersonRole? Role { get; private init; }

    /// <summary>How they signed in.</summary>
    public SignInWay Way { get; private init; }

    /// <summary>Name of the shop's device they work on; empty for one that is not known.</summary>
    public string Device { get; private init; } = "";

    /// <summary>True when the password was given out by the owner and has to be changed before anything else.</summary>
    public bool MustChangePassword { get; private init; }

    /// <summary>The token with which another program asks; null for people and for this program.</summary>
    public Guid? TokenId { get; private init; }

    /// <summary>True for somebody, for the program, and for another program with a token.</summary>
    public bool IsSomebody => IsProgram || PersonId is not null || TokenId is not null;

    private FrozenSet<Permission> Granted { get; init; } = FrozenSet<Permission>.Empty;

    private bool IsProgram { get; init; }

    /// <summary>A person who has signed in.</summary>
    public static Actor Of(Person person, SignInWay way, string device)
    {
        ArgumentNullException.ThrowIfNull(person);
        return new() { PersonId = person.Id, Name = person.Name, Role = person.Role, Way = way, Device = device, MustChangePassword = person.MustChangePassword };
    }

    /// <summary>Another program, with a token.</summary>
    public static Actor Of(ProgramToken token)
    {
        ArgumentNullException.ThrowIfNull(token);
        return new() { TokenId = token.Id, Name = token.Name, Way = SignInWay.Token, Granted = token.Grants.Select(ProgramToken.PermissionOf).ToFrozenSet() };
    }

    /// <summary>True when they may change the records with it. Another program never may: whatever a token grants is to look.</summary>
    public bool MayChange(Permission permission) => TokenId is null && May(permission);

    /// <summary>True when they may do it.</summary>
    public bool May(Permission permission) => IsProgram || Granted.Contains(permission) || (Role is { } role && Permissions.Has(role, permission)
        && (Way is SignInWay.Password or SignInWay.Passkey || !Permissions.NeedsPassword(permission)) && (!MustChangePassword || permission == Permission.OwnSignIn));

    /// <summary>Why they may not, in plain words.</summary>
    public string Refusal(Permission permission) => this switch
    {
        { TokenId: not null } => "A program with a token may look at what its token says, and change nothing. Nothing was saved.",
        { Role: null } => "Nobody is signed in on this tablet any more. Sign in again.",
        { MustChangePassword: true } => "Choose a password of your own first.",
        { Role: { } role } when Permissions.Has(role, permission) => "A PIN is not enough for this. Sign in with your password.",
        { Role: PersonRole.Technician } when Permissions.Has(PersonRole.Advisor, permission) => "Only an advisor or the owner may do that. Nothing was saved.",
        _ => "Only the owner may do that. Nothing was saved.",
    };

    /// <summary>The name for the records: the person's own, whatever a page or a request says; for the program the one that it was given.</summary>
    public string Signs(string by) => PersonId is null ? by : Name;
}

/// <summary>Says who acts in a scope of services: a request, or the life of an open page.</summary>
public interface IActing
{
    /// <summary>Who acts now. Asked anew for every change: somebody may have been signed out meanwhile.</summary>
    Actor Current { get; }
}

/// <summary>The program acts: what holds where nobody has put another in the services.</summary>
internal sealed class ProgramActing : IActing
{
    public Actor Current => Actor.Program;
}

/// <summary>Somebody asked for what they may not do, where no answer could say so.</summary>
public sealed class NotAllowedException : Exception
{
    /// <summary>With a message for the person at the screen.</summary>
    public NotAllowedException(string message)
        : base(message)
    {
    }

    /// <inheritdoc cref="NotAllowedException(string)"/>
    public NotAllowedException(string message, Exception inner)
        : base(message, inner)
    {
    }

    /// <inheritdoc cref="NotAllowedException(string)"/>
    public NotAllowedException()
    {
    }
}
