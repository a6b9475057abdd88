using System.Collections.Immutable;
using ShopDiag.Storage.People;

namespace ShopDiag.Web.People;

/// <summary>Somebody invented who works in the demo shop.</summary>
/// <param name="Login">The sign-in name.</param>
/// <param name="Name">The name in the records.</param>
/// <param name="Role">What they may do.</param>
/// <param name="Pin">The PIN, on a device that is remembered.</param>
public sealed record DemoPerson(string Login, string Name, PersonRole Role, string Pin);

/// <summary>The people of the demo shop. Their passwords are shown on its sign-in page to whoever opens it, so they exist in the demo shop only.</summary>
public static class Demo
{
    /// <summary>The password of all of them.</summary>
    public const string Password = "lift-two-wobbles";

    /// <summary>Who works there.</summary>
    public static ImmutableArray<DemoPerson> People { get; } =
    [
        new("nora", "Nora", PersonRole.Owner, "740296"),
        new("ruth", "Ruth", PersonRole.Advisor, "385017"),
        new("lena", "Lena", PersonRole.Technician, "916428"),
        new("marco", "Marco", PersonRole.Technician, "274063"),
        new("sam", "Sam", PersonRole.Technician, "608135"),
    ];

    /// <summary>True in a shop where they work.</summary>
    public static bool WorksHere(PeopleDirectory people, Passwords passwords)
    {
        ArgumentNullException.ThrowIfNull(people);
        ArgumentNullException.ThrowIfNull(passwords);
        return people.FindByLogin(People[0].Login) is { IsActive: true } owner && passwords.IsRight(owner, Password);
    }

    /// <summary>Lets them in, unless somebody works here already.</summary>
    public static Task AddAsync(PeopleDirectory people, Passwords passwords, Pins pins)
    {
        ArgumentNullException.ThrowIfNull(people);
        ArgumentNullException.ThrowIfNull(passwords);
        ArgumentNullException.ThrowIfNull(pins);
        var hash = passwords.Hash(Password);
        return people.AddFirstAsync([.. People.Select(p => new Person
        {
            Id = Guid.CreateVersion7(), Login = p.Login, Name = p.Name, Role = p.Role, PasswordHash = hash, PinHash = pins.Hash(p.Pin), Stamp = PeopleDirectory.NewSecret(), CreatedAt = default,
        })]);
    }
}
