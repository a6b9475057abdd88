using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Logging.Abstractions;
using Microsoft.Extensions.Time.Testing;
using ShopDiag.Storage;
using ShopDiag.Storage.Backups;
using ShopDiag.Storage.Personal;
using ShopDiag.Storage.Shop;
using ShopDiag.Web.Keeping;

namespace ShopDiag.Web.Tests.Keeping;

public sealed class NightlyWorkTests : IAsyncLifetime
{
    private readonly string _folder = Directory.CreateTempSubdirectory("shopdiag-night-").FullName;
    private readonly FakeTimeProvider _time = new(new DateTimeOffset(2026, 3, 5, 12, 0, 0, TimeSpan.Zero));
    private ServiceProvider _services = null!;
    private NightlyWork _night = null!;

    private BackupStore Backups => _services.GetRequiredService<BackupStore>();

    private ShopStore Shops => _services.GetRequiredService<ShopStore>();

    public async ValueTask InitializeAsync()
    {
        _time.SetLocalTimeZone(TimeZoneInfo.Utc);
        _services = new ServiceCollection().AddLogging().AddSingleton<TimeProvider>(_time).AddShopStorage(_folder).BuildServiceProvider();
        await _services.OpenShopAsync();
        _night = new(Backups, _services.GetRequiredService<CustomerStore>(), Shops, _time, NullLogger<NightlyWork>.Instance);
    }

    public async ValueTask DisposeAsync()
    {
        _night.Dispose();
        await _services.DisposeAsync();
        Directory.Delete(_folder, recursive: true);
    }

    [Fact]
    public async Task One_backup_a_night_and_the_missed_one_when_the_computer_is_on_again()
    {
        Assert.False(await LookAsync());
        await Shops.SaveAsync(new ShopSettings());
        Assert.True(await LookAsync());
        Assert.False(await LookAsync());
        // Two nights and a half off.
        _time.Advance(TimeSpan.FromHours(60));
        Assert.True(await LookAsync());
        Assert.False(await LookAsync());
        _time.Advance(TimeSpan.FromHours(1.9));
        Assert.False(await LookAsync());
        _time.Advance(TimeSpan.FromHours(0.2));
        Assert.True(await LookAsync());
        Assert.All(Backups.List(), b => Assert.Equal(BackupKind.Nightly, b.Kind));
    }

    [Fact]
    public async Task After_the_clock_was_set_back_the_night_is_not_missed()
    {
        await Shops.SaveAsync(new ShopSettings());
        _time.SetUtcNow(new DateTimeOffset(2027, 3, 5, 12, 0, 0, TimeSpan.Zero));
        Assert.True(await LookAsync());
        var back = new FakeTimeProvider(new DateTimeOffset(2026, 3, 6, 12, 0, 0, TimeSpan.Zero));
        back.SetLocalTimeZone(TimeZoneInfo.Utc);
        using var night = new NightlyWork(Backups, _services.GetRequiredService<CustomerStore>(), Shops, back, NullLogger<NightlyWork>.Instance);
        Assert.True(await night.LookAsync(CancellationToken.None));
    }

    [Fact]
    public async Task A_backup_that_fails_says_why_and_is_tried_again_after_an_hour()
    {
        await Shops.SaveAsync(new ShopSettings());
        // In the way of the folder.
        await File.WriteAllTextAsync(Backups.Folder, "");
        Assert.False(await LookAsync());
        Assert.NotNull(_night.Failure);
        File.Delete(Backups.Folder);
        Assert.False(await LookAsync());
        _time.Advance(TimeSpan.FromMinutes(61));
        Assert.True(await LookAsync());
        Assert.Null(_night.Failure);
    }

    [Theory]
    [InlineData("2026-03-05T01:59:00Z", "2026-03-04T02:00:00Z")]
    [InlineData("2026-03-05T02:00:00Z", "2026-03-05T02:00:00Z")]
    [InlineData("2026-03-05T23:00:00Z", "2026-03-05T02:00:00Z")]
    public void It_is_due_at_the_hour_of_the_shop(string now, string due) =>
        Assert.Equal(Time(due), NightlyWork.LastDue(Time(now), 2, TimeZoneInfo.Utc));

    [Fact]
    public void In_the_night_that_has_no_such_hour_it_is_due_all_the_same()
    {
        var chicago = TimeZoneInfo.FindSystemTimeZoneById("America/Chicago");
        // From 2:00 to 3:00 there was nothing on 8 March 2026.
        Assert.Equal(Time("2026-03-08T08:00:00Z"), NightlyWork.LastDue(Time("2026-03-08T20:00:00Z"), 2, chicago));
    }

    private static DateTime Time(string text) => DateTimeOffset.Parse(text, System.Globalization.CultureInfo.InvariantCulture).UtcDateTime;

    private Task<bool> LookAsync() => _night.LookAsync(CancellationToken.None);
}
