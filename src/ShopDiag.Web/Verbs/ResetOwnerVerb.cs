using System.CommandLine;
using Microsoft.AspNetCore.Identity;
using ShopDiag.Storage;
using ShopDiag.Storage.People;
using ShopDiag.Web.People;

namespace ShopDiag.Web.Verbs;

/// <summary><c>reset-owner</c>: gives an owner who cannot get in any more another password. Whoever may run programs on the data folder could read it anyway.</summary>
internal static class ResetOwnerVerb
{
    private const int BadInput = 1;

    public static Command Create(Option<string?> data)
    {
        var login = new Option<string?>("--login") { Description = "Who is to be the owner; otherwise the only owner there is." };
        var command = new Command("reset-owner", "Give the owner another password, shown once. Stop the shop first.") { login };
        command.SetAction((parsed, cancel) => RunAsync(DataFolder.Resolve(parsed.GetValue(data)), parsed.GetValue(login), cancel));
        return command;
    }

    private static async Task<int> RunAsync(string folder, string? login, CancellationToken cancel)
    {
        await using var services = new ServiceCollection().AddLogging().AddSingleton(TimeProvider.System).AddShopStorage(folder)
            .AddSingleton<IPasswordHasher<Account>, PasswordHasher<Account>>().AddSingleton<Passwords>().BuildServiceProvider();
        await services.OpenShopAsync(cancel);
        var people = services.GetRequiredService<PeopleDirectory>();
        if (people.IsEmpty)
        {
            return await WrongAsync($"Nobody has been added in {folder} yet. Start the shop and use the set-up page.");
        }

        Person[] wanted = login is null ? [.. people.All.Where(p => p.Role == PersonRole.Owner)] : people.FindByLogin(login) is { } named ? [named] : [];
        if (wanted is not [var owner])
        {
            return await WrongAsync(wanted.Length == 0
                ? $"Nobody signs in as {login}. There are: {Logins(people.All)}."
                : $"There are several owners: {Logins(wanted)}. Say which with --login.");
        }

        var password = Passwords.NewTemporary();
        var hash = services.GetRequiredService<Passwords>().Hash(password);
        await people.ChangeAsync(
            owner.Id,
            (p, _) => p with
            {
                Role = PersonRole.Owner, IsActive = true, PasswordHash = hash, MustChangePassword = true, Stamp = PeopleDirectory.NewSecret(), PasswordFailures = 0, PasswordBlockedUntil = null, PinHash = "", PinFailures = 0, Passkeys = [],
                PinBlockedUntil = null,
            },
            Actor.Program,
            "reset owner",
            cancel);
        await Console.Out.WriteLineAsync($"Sign in as {owner.Login} with the password {password}. It has to be changed at once; every other sign-in of {owner.Name} is over.");
        return 0;
    }

    private static string Logins(IEnumerable<Person> people) => string.Join(", ", people.Select(p => p.Login));

    private static async Task<int> WrongAsync(string message)
    {
        await Console.Error.WriteLineAsync(message);
        return BadInput;
    }
}
