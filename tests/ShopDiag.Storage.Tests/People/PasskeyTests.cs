using Microsoft.Extensions.DependencyInjection;
using ShopDiag.Storage.Orders;
using ShopDiag.Storage.People;

namespace ShopDiag.Storage.Tests.People;

public sealed class PasskeyTests : IAsyncLifetime
{
    private readonly Acting _acting = new();
    private readonly string _folder = TestShop.NewFolder();
    private readonly Guid _sam = Guid.NewGuid();
    private ServiceProvider _services = null!;

    private PeopleDirectory Directory => _services.GetRequiredService<PeopleDirectory>();

    private PeopleStore Store => _services.GetRequiredService<PeopleStore>();

    public async ValueTask InitializeAsync()
    {
        _services = await _acting.OpenAsync(_folder);
        Person Somebody(Guid id, string login, PersonRole role) => new() { Id = id, Login = login, Name = login, Role = role, Stamp = PeopleDirectory.NewSecret(), CreatedAt = default };
        await Directory.AddFirstAsync([Somebody(Guid.NewGuid(), "rosa", PersonRole.Owner), Somebody(_sam, "sam", PersonRole.Technician)]);
        Act(SignInWay.Password);
    }

    public async ValueTask DisposeAsync()
    {
        await _services.DisposeAsync();
        System.IO.Directory.Delete(_folder, recursive: true);
    }

    [Fact]
    public async Task They_are_kept_with_the_person_to_a_number_and_go_one_by_one()
    {
        for (byte i = 0; i < Passkey.Most; i++)
        {
            Assert.Equal(SaveOutcome.Saved, (await Store.AddMyPasskeyAsync(Key(i))).Outcome);
        }

        Assert.Contains("10 passkeys already", (await Store.AddMyPasskeyAsync(Key(99))).Message, StringComparison.Ordinal);
        Assert.Equal(_sam, Directory.FindByPasskey([7, 1])?.Id);
        Assert.Null(Directory.FindByPasskey([99, 1]));
        Assert.Null(Directory.FindByPasskey([]));
        await Store.RemoveMyPasskeyAsync([7, 1]);
        Assert.Null(Directory.FindByPasskey([7, 1]));
        Assert.Equal(("Phone 3", 4294967295), Directory.Find(_sam)!.Passkeys.Where(k => k.CredentialId[0] == 3).Select(k => (k.Name, k.SignCount)).Single());
    }

    [Fact]
    public async Task A_PIN_is_not_enough_to_add_one_but_a_passkey_is()
    {
        Act(SignInWay.Pin);
        Assert.Contains("PIN is not enough", (await Store.AddMyPasskeyAsync(Key(1))).Message, StringComparison.Ordinal);
        Act(SignInWay.Passkey);
        Assert.Equal(SaveOutcome.Saved, (await Store.AddMyPasskeyAsync(Key(1))).Outcome);
    }

    [Fact]
    public async Task Another_password_from_the_owner_takes_them_all_away()
    {
        await Store.AddMyPasskeyAsync(Key(1));
        _acting.Current = Actor.Program;
        await Store.ResetPasswordAsync(_sam, "other");
        Assert.Empty(Directory.Find(_sam)!.Passkeys);
    }

    private void Act(SignInWay way) => _acting.Current = Actor.Of(Directory.Find(_sam)!, way, "");

    private static Passkey Key(byte number) => new() { CredentialId = [number, 1], PublicKey = [1, 2, 3], Name = $"Phone {number}", SignCount = uint.MaxValue, CreatedAt = default };
}
