using Microsoft.Extensions.DependencyInjection;
using ShopDiag.Storage.Audit;
using ShopDiag.Storage.Orders;
using ShopDiag.Storage.People;

namespace ShopDiag.Storage.Tests.People;

public sealed class PeopleStoreTests : IAsyncLifetime
{
    private TestShop _shop = null!;

    private PeopleDirectory Directory => _shop.Services.GetRequiredService<PeopleDirectory>();

    private PeopleStore Store => _shop.Services.GetRequiredService<PeopleStore>();

    public async ValueTask InitializeAsync()
    {
        _shop = await TestShop.OpenAsync();
        Assert.True(await Directory.AddFirstAsync([New("rosa", PersonRole.Owner)]));
    }

    public ValueTask DisposeAsync() => _shop.DisposeAsync();

    [Fact]
    public async Task Of_two_who_set_the_shop_up_at_the_same_moment_one_becomes_the_owner()
    {
        await using var shop = await TestShop.OpenAsync();
        var directory = shop.Services.GetRequiredService<PeopleDirectory>();
        Assert.True(directory.IsEmpty);
        var done = await Task.WhenAll(Enumerable.Range(0, 8).Select(i => directory.AddFirstAsync([New($"p{i}", PersonRole.Owner)])));
        Assert.Single(done, d => d);
        Assert.Single(directory.All);
    }

    [Fact]
    public async Task The_last_owner_who_can_sign_in_cannot_be_shut_out_or_made_something_else()
    {
        var rosa = Directory.FindByLogin("rosa")!.Id;
        Assert.Contains("needs an owner", (await Store.SetActiveAsync(rosa, false)).Message, StringComparison.Ordinal);
        Assert.Contains("needs an owner", (await Store.SetRoleAsync(rosa, PersonRole.Advisor)).Message, StringComparison.Ordinal);
        var ines = Guid.NewGuid();
        await Store.AddAsync(ines, "ines", "Ines", PersonRole.Owner, "hash");
        Assert.Equal(SaveOutcome.Saved, (await Store.SetRoleAsync(rosa, PersonRole.Advisor)).Outcome);
        Assert.Contains("needs an owner", (await Store.SetActiveAsync(ines, false)).Message, StringComparison.Ordinal);
    }

    [Fact]
    public async Task What_ends_a_sign_in_changes_the_stamp_and_what_does_not_leaves_it()
    {
        var id = Guid.NewGuid();
        await Store.AddAsync(id, "sam", "Sam", PersonRole.Technician, "hash");
        foreach (var change in new Func<Task<SaveResult>>[] { () => Store.SetRoleAsync(id, PersonRole.Advisor), () => Store.SetActiveAsync(id, false), () => Store.ResetPasswordAsync(id, "other"), () => Store.SignOutEverywhereAsync(id) })
        {
            var before = Directory.Find(id)!.Stamp;
            await change();
            Assert.NotEqual(before, Directory.Find(id)!.Stamp);
        }

        var stamp = Directory.Find(id)!.Stamp;
        await Store.RemovePinAsync(id);
        Assert.Equal(stamp, Directory.Find(id)!.Stamp);
    }

    [Theory]
    [InlineData("s", "Sam", "A sign-in name")]
    [InlineData("sam", " ", "A name has")]
    [InlineData(" ROSA", "Rosa the second", "already")]
    public async Task Somebody_without_a_name_or_with_a_taken_one_is_not_added(string login, string name, string why) =>
        Assert.Contains(why, (await Store.AddAsync(Guid.NewGuid(), login, name, PersonRole.Technician, "hash")).Message, StringComparison.Ordinal);

    [Fact]
    public async Task A_person_changed_meanwhile_is_not_overwritten()
    {
        var read = Directory.FindByLogin("rosa")!;
        await Directory.ChangeAsync(read.Id, (p, _) => p with { PinFailures = 3 }, Actor.Program, null);
        Assert.False(await Directory.ReplaceAsync(read with { PasswordFailures = 1 }));
        Assert.True(await Directory.ReplaceAsync(Directory.FindByLogin("rosa")! with { PasswordFailures = 1 }));
        Assert.Equal((3, 1), (Directory.FindByLogin("rosa")!.PinFailures, Directory.FindByLogin("rosa")!.PasswordFailures));
    }

    [Fact]
    public async Task Listeners_hear_of_changes_and_people_are_there_again_after_a_new_start()
    {
        var heard = 0;
        Directory.Changed += () => heard++;
        await Store.AddAsync(Guid.NewGuid(), "sam", "Sam", PersonRole.Technician, "hash");
        Assert.Equal(1, heard);
        var record = await _shop.Services.GetRequiredService<AuditStore>().OfShopAsync(null, 10);
        Assert.Equal(["add person", "set up"], record.Select(e => e.What));
        Assert.Equal(["rosa", "sam"], _shop.Services.GetRequiredService<PeopleDirectory>().All.Select(p => p.Login).Order());
        Assert.Equal(2, _shop.Scalar("SELECT count(*) FROM People"));
    }

    [Fact]
    public async Task A_device_is_known_by_its_secret_until_it_is_forgotten()
    {
        var device = await Directory.RememberDeviceAsync(Guid.NewGuid(), "Bay 2", "hash", Actor.Program);
        Assert.Equal("Bay 2", Directory.FindDevice(device.Id, "hash")?.Name);
        Assert.Null(Directory.FindDevice(device.Id, "other"));
        await Store.ForgetDeviceAsync(device.Id);
        Assert.Null(Directory.FindDevice(device.Id, "hash"));
        Assert.Empty(Directory.Devices);
    }

    private static Person New(string login, PersonRole role) =>
        new() { Id = Guid.NewGuid(), Login = login, Name = login, Role = role, PasswordHash = "hash", Stamp = PeopleDirectory.NewSecret(), CreatedAt = default };
}
