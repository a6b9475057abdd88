using System.Collections.Immutable;
using System.Globalization;

namespace ShopDiag.Storage.Backups;

/// <summary>
/// How long backups are kept: the newest of each of the latest days, weeks and months that have any. Days without a backup do not count, so that a shop that was closed for a month still
/// has its last fortnight of work. The clock of the moment plays no part: one that was set wrong for a night makes no backup too old.
/// </summary>
/// <param name="Days">Days, from 1.</param>
/// <param name="Weeks">Weeks, from 0.</param>
/// <param name="Months">Months, from 0.</param>
public sealed record BackupRetention(int Days, int Weeks, int Months)
{
    /// <summary>Newest ones of each kind that are kept whatever came later on the same day, so that an upgrade or a restore can be undone.</summary>
    public const int NewestOfEachKind = 3;

    /// <summary>A fortnight of days, two months of weeks, a year of months (common practice).</summary>
    public static readonly BackupRetention Usual = new(14, 8, 12);

    /// <summary>The backups that may go, oldest first. Days and weeks are the shop's own; a week begins on Monday (ISO 8601).</summary>
    public ImmutableArray<BackupInfo> Superfluous(IEnumerable<BackupInfo> backups, TimeZoneInfo zone)
    {
        ArgumentNullException.ThrowIfNull(backups);
        ArgumentNullException.ThrowIfNull(zone);
        var newestFirst = backups.OrderByDescending(b => b.MadeAt).ThenByDescending(b => b.Name, StringComparer.Ordinal).ToList();
        var kept = Newest(newestFirst, Days, b => Local(b, zone).Date)
            .Concat(Newest(newestFirst, Weeks, b => (ISOWeek.GetYear(Local(b, zone)), ISOWeek.GetWeekOfYear(Local(b, zone)))))
            .Concat(Newest(newestFirst, Months, b => (Local(b, zone).Year, Local(b, zone).Month)))
            .Concat(newestFirst.GroupBy(b => b.Kind).Where(g => g.Key != BackupKind.Nightly).SelectMany(g => g.Take(NewestOfEachKind)))
            .ToHashSet();
        return [.. newestFirst.Where(b => !kept.Contains(b)).Reverse()];
    }

    private static IEnumerable<BackupInfo> Newest<T>(IEnumerable<BackupInfo> newestFirst, int count, Func<BackupInfo, T> span) =>
        newestFirst.GroupBy(span).Take(count).Select(g => g.First());

    private static DateTime Local(BackupInfo backup, TimeZoneInfo zone) => TimeZoneInfo.ConvertTimeFromUtc(backup.MadeAt, zone);
}
