using ShopDiag.Storage.People;

namespace ShopDiag.Web.Tests.Support;

/// <summary>Whoever a test says acts on a page; the program to begin with.</summary>
public sealed class ActingAs : IActing
{
    public Actor Current { get; set; } = Actor.Program;

    /// <summary>Somebody of a role with a name, signed in with a password.</summary>
    public static Actor Somebody(string name, PersonRole role) =>
        Actor.Of(new() { Id = Guid.NewGuid(), Login = name.ToLowerInvariant(), Name = name, Role = role, CreatedAt = default }, SignInWay.Password, "");
}
