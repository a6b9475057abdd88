using System.Text.Json.Serialization;
using ShopDiag.Storage.Backups;

namespace ShopDiag.Storage.Shop;

/// <summary>How the shop keeps its records.</summary>
public sealed record Keeping
{
    /// <summary>Hour of the day at which the nightly backup is made, 0 to 23, the shop's time.</summary>
    public int NightlyHour { get; init; } = 2;

    /// <summary>Days of which a backup is kept, 1 to 366.</summary>
    public int BackupDays { get; init; } = BackupRetention.Usual.Days;

    /// <summary>Weeks, 0 to 520.</summary>
    public int BackupWeeks { get; init; } = BackupRetention.Usual.Weeks;

    /// <summary>Months, 0 to 240.</summary>
    public int BackupMonths { get; init; } = BackupRetention.Usual.Months;

    /// <summary>Years after the last order's hand-over at which a customer is erased by itself, 1 to 99; null for never.</summary>
    public int? EraseAfterYears { get; init; }

    /// <summary>The three together.</summary>
    [JsonIgnore]
    public BackupRetention Retention => new(BackupDays, BackupWeeks, BackupMonths);
}
