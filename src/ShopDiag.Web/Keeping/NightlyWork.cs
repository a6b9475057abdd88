using ShopDiag.Storage.Backups;
using ShopDiag.Storage.Personal;
using ShopDiag.Storage.Shop;

namespace ShopDiag.Web.Keeping;

/// <summary>What is done every night: a backup, thinning out the older ones, and erasing customers whose time is over. A computer that was off at night does it when it is on again.</summary>
public sealed class NightlyWork(BackupStore backups, CustomerStore customers, ShopStore shops, TimeProvider time, ILogger<NightlyWork> log) : BackgroundService
{
    private static readonly TimeSpan LookEvery = TimeSpan.FromMinutes(1);
    private static readonly TimeSpan AgainAfterFailure = TimeSpan.FromHours(1);
    private DateTime _notBefore = DateTime.MinValue;

    /// <summary>Why the last try failed; null when it did not.</summary>
    public string? Failure { get; private set; }

    /// <summary>When the latest night's work was due, UTC, at an hour of the shop's clock.</summary>
    public static DateTime LastDue(DateTime now, int hour, TimeZoneInfo zone)
    {
        ArgumentNullException.ThrowIfNull(zone);
        var today = TimeZoneInfo.ConvertTimeFromUtc(now, zone).Date;
        return Enumerable.Range(-2, 3).Select(day => Utc(today.AddDays(day).AddHours(hour), zone)).Where(t => t <= now).Max();
    }

    /// <summary>Does the night's work if it is due and was not done; true when it was done now.</summary>
    public async Task<bool> LookAsync(CancellationToken cancel)
    {
        var now = time.GetUtcNow().UtcDateTime;
        if (now < _notBefore || await shops.GetAsync(cancel) is not { } settings)
        {
            return false;
        }

        var due = LastDue(now, settings.Keeping.NightlyHour, time.LocalTimeZone);
        // One dated in the future comes from a clock that was wrong: it does not count as this night's.
        if (backups.List().Any(b => b.Kind == BackupKind.Nightly && b.MadeAt >= due && b.MadeAt <= now))
        {
            return false;
        }

        try
        {
            await backups.MakeAsync(BackupKind.Nightly, null, cancel);
            await backups.PruneAsync(settings.Keeping.Retention, cancel);
            await customers.EraseDueAsync(settings.Keeping.EraseAfterYears, cancel);
            Failure = null;
            return true;
        }
        catch (Exception e) when (e is BackupException or IOException or UnauthorizedAccessException)
        {
            log.LogError(e, "The nightly backup could not be made");
            Failure = e.Message;
            _notBefore = now + AgainAfterFailure;
            return false;
        }
    }

    /// <inheritdoc/>
    protected override async Task ExecuteAsync(CancellationToken stoppingToken)
    {
        using var timer = new PeriodicTimer(LookEvery, time);
        // Not at once: the shop is to be open first.
        while (await timer.WaitForNextTickAsync(stoppingToken))
        {
            try
            {
                await LookAsync(stoppingToken);
            }
            catch (Exception e) when (e is not OperationCanceledException)
            {
                // Whatever it is, the next night must come.
                log.LogError(e, "The nightly work failed");
                _notBefore = time.GetUtcNow().UtcDateTime + AgainAfterFailure;
            }
        }
    }

    // In spring an hour is left out; what was due in it is due at its end.
    private static DateTime Utc(DateTime local, TimeZoneInfo zone) => TimeZoneInfo.ConvertTimeToUtc(zone.IsInvalidTime(local) ? local.AddHours(1) : local, zone);
}
