using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Time.Testing;
using ShopDiag.Storage.Backups;
using ShopDiag.Storage.Orders;
using ShopDiag.Storage.People;
using ShopDiag.Storage.Programs;
using ShopDiag.Storage.Tests.People;

namespace ShopDiag.Storage.Tests.Programs;

public sealed class TokenStoreTests : IAsyncLifetime
{
    private readonly Acting _acting = new();
    private readonly string _folder = TestShop.NewFolder();
    private readonly FakeTimeProvider _clock = new(new DateTimeOffset(2026, 3, 2, 8, 0, 0, TimeSpan.Zero));
    private ServiceProvider _services = null!;
    private Person _rosa = null!;

    private TokenStore Store => _services.GetRequiredService<TokenStore>();

    private TokenDirectory Directory => _services.GetRequiredService<TokenDirectory>();

    public async ValueTask InitializeAsync()
    {
        _services = new ServiceCollection().AddSingleton<IActing>(_acting).AddSingleton<TimeProvider>(_clock).AddShopStorage(_folder).BuildServiceProvider();
        await _services.OpenShopAsync();
        var people = _services.GetRequiredService<PeopleDirectory>();
        await people.AddFirstAsync([new() { Id = Guid.NewGuid(), Login = "rosa", Name = "Rosa", Role = PersonRole.Owner, Stamp = PeopleDirectory.NewSecret(), CreatedAt = default }]);
        _rosa = people.FindByLogin("rosa")!;
        _acting.Current = Actor.Of(_rosa, SignInWay.Password, "");
    }

    public async ValueTask DisposeAsync()
    {
        await _services.DisposeAsync();
        System.IO.Directory.Delete(_folder, recursive: true);
    }

    [Fact]
    public void Secrets_are_long_all_different_and_know_each_other_from_other_texts()
    {
        var secrets = Enumerable.Range(0, 1000).Select(_ => TokenSecret.New()).ToList();
        Assert.Equal(1000, secrets.Distinct().Count());
        Assert.All(secrets, s => Assert.Matches("^shopdiag_[A-Za-z0-9_-]{43}$", s));
        // Each of the 43 letters takes many values over a thousand secrets: none stands still. The last holds 4 bits (RFC 4648, 5).
        Assert.All(Enumerable.Range(0, 43), i => Assert.InRange(secrets.Select(s => s[TokenSecret.Prefix.Length + i]).Distinct().Count(), i == 42 ? 12 : 50, 64));
        Assert.All(new[] { null, "", "shopdiag_", secrets[0][1..], secrets[0] + "A", secrets[0][..^1] + "é", "x" + secrets[0][1..] }, s => Assert.Null(TokenSecret.Hash(s)));
    }

    [Fact]
    public void The_hash_is_SHA_256_of_the_letters()
    {
        // Reckoned with coreutils: printf 'shopdiag_AAAA...' (43 times A) | sha256sum.
        Assert.Equal("97e22020577993ec647c01a6c1d7e449a6b7c1bd8bf62df9b8278a661219e63a", TokenSecret.Hash("shopdiag_" + new string('A', 43)));
    }

    [Fact]
    public async Task A_token_holds_from_when_it_is_made_until_it_is_revoked()
    {
        var (secret, id) = await MakeAsync("Bench computer", null);
        var token = Directory.Find(secret, _clock.GetUtcNow())!;
        Assert.Equal(("Bench computer", "Rosa", _rosa.Id), (token.Name, token.MadeBy, token.MadeById));
        Assert.Null(Directory.Find(TokenSecret.New(), _clock.GetUtcNow()));
        Assert.Equal(SaveOutcome.Saved, (await Store.RevokeAsync(id)).Outcome);
        Assert.Null(Directory.Find(secret, _clock.GetUtcNow()));
        Assert.Equal(SaveOutcome.AlreadySaved, (await Store.RevokeAsync(id)).Outcome);
        Assert.False(Directory.ActorOf(id, _clock.GetUtcNow()).IsSomebody);
    }

    [Fact]
    public async Task It_may_do_what_it_was_made_for_and_change_nothing()
    {
        var (_, id) = await MakeAsync("Bench computer", null, TokenGrant.WorkOut, TokenGrant.Figures);
        var actor = Directory.ActorOf(id, _clock.GetUtcNow());
        Assert.Equal([Permission.WorkOut, Permission.SeeFigures], Enum.GetValues<Permission>().Where(actor.May));
        Assert.DoesNotContain(Enum.GetValues<Permission>(), actor.MayChange);
    }

    [Fact]
    public async Task It_is_over_at_its_time_and_not_before()
    {
        var end = _clock.GetUtcNow().AddDays(30);
        var (secret, _) = await MakeAsync("Bench computer", end.UtcDateTime);
        Assert.NotNull(Directory.Find(secret, end.AddTicks(-1)));
        Assert.Null(Directory.Find(secret, end));
        Assert.Contains("passed already", (await TryAsync("Other", _clock.GetUtcNow().UtcDateTime, TokenGrant.WorkOut)).Message, StringComparison.Ordinal);
    }

    [Fact]
    public async Task The_same_name_serves_again_once_the_first_is_revoked()
    {
        var (_, id) = await MakeAsync("Bench computer", null);
        Assert.Contains("has a token already", (await TryAsync(" bench COMPUTER ", null, TokenGrant.WorkOut)).Message, StringComparison.Ordinal);
        await Store.RevokeAsync(id);
        await MakeAsync("Bench computer", null);
        Assert.Contains("at least one", (await TryAsync("Other", null)).Message, StringComparison.Ordinal);
        Assert.Contains("which program", (await TryAsync("  ", null, TokenGrant.WorkOut)).Message, StringComparison.Ordinal);
    }

    [Fact]
    public async Task The_console_makes_none()
    {
        _acting.Current = Actor.Program;
        Assert.Contains("an owner who is signed in", (await TryAsync("Bench computer", null, TokenGrant.WorkOut)).Message, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Uses_are_noted_an_hour_apart()
    {
        var (secret, _) = await MakeAsync("Bench computer", null);
        var first = _clock.GetUtcNow();
        await Directory.UsedAsync(Directory.Find(secret, first)!, first);
        Assert.Equal(first.UtcDateTime, Directory.All[0].LastUsedAt);
        _clock.Advance(TimeSpan.FromMinutes(59));
        await Directory.UsedAsync(Directory.Find(secret, first)!, _clock.GetUtcNow());
        Assert.Equal(first.UtcDateTime, Directory.All[0].LastUsedAt);
        _clock.Advance(TimeSpan.FromMinutes(1));
        await Directory.UsedAsync(Directory.Find(secret, first)!, _clock.GetUtcNow());
        Assert.Equal(first.UtcDateTime.AddHours(1), Directory.All[0].LastUsedAt);
    }

    [Fact]
    public async Task A_backup_does_not_bring_a_revoked_token_back()
    {
        var (goesOn, _) = await MakeAsync("Goes on", null);
        var (revoked, id) = await MakeAsync("Revoked since", null);
        var backups = _services.GetRequiredService<BackupStore>();
        _acting.Current = Actor.Program;
        await _services.GetRequiredService<OrderStore>().OpenAsync(Guid.NewGuid(), "Rosa");
        var backup = (await backups.MakeAsync(BackupKind.Asked)).Name;
        _acting.Current = Actor.Of(_rosa, SignInWay.Password, "");
        await Store.RevokeAsync(id);
        var (later, _) = await MakeAsync("Made since", null);
        await backups.RestoreAsync(backup);
        Assert.NotNull(Directory.Find(goesOn, _clock.GetUtcNow()));
        Assert.Null(Directory.Find(revoked, _clock.GetUtcNow()));
        Assert.Null(Directory.Find(later, _clock.GetUtcNow()));
        Assert.Equal("a backup put back", Directory.All.Single(t => t.Id == id).RevokedBy);
    }

    private async Task<(string Secret, Guid Id)> MakeAsync(string name, DateTime? end, params TokenGrant[] grants)
    {
        var (secret, id) = (TokenSecret.New(), Guid.NewGuid());
        var made = await Store.MakeAsync(id, name, grants.Length == 0 ? [TokenGrant.WorkOut] : [.. grants], end, TokenSecret.Hash(secret)!);
        Assert.Equal((SaveOutcome.Saved, ""), (made.Outcome, made.Message));
        return (secret, id);
    }

    private Task<SaveResult> TryAsync(string name, DateTime? end, params TokenGrant[] grants) => Store.MakeAsync(Guid.NewGuid(), name, [.. grants], end, TokenSecret.Hash(TokenSecret.New())!);
}
