using CsCheck;
using ShopDiag.Storage.Backups;

namespace ShopDiag.Storage.Tests.Backups;

public sealed class BackupRetentionTests
{
    private static readonly DateTime Start = new(2026, 1, 1, 2, 0, 0, DateTimeKind.Utc);

    [Fact]
    public void Two_years_of_nights_leave_a_fortnight_of_days_eight_weeks_and_twelve_months()
    {
        var nights = Nights(730).ToList();
        var kept = Kept(nights, BackupRetention.Usual);
        Assert.Equal(nights[^14..], kept[^14..]);
        // Days and weeks and months overlap: the newest of this week and month is a day already.
        Assert.InRange(kept.Count, 14 + 6 + 9, 14 + 8 + 12);
        Assert.Equal(12, kept.Select(b => (b.MadeAt.Year, b.MadeAt.Month)).Distinct().Count());
    }

    [Fact]
    public void Thinned_out_every_night_the_same_remain_as_thinned_out_once()
    {
        var nights = Nights(400).ToList();
        var nightly = new List<BackupInfo>();
        foreach (var night in nights)
        {
            nightly.Add(night);
            nightly = Kept(nightly, BackupRetention.Usual);
        }

        Assert.Equal(Kept(nights, BackupRetention.Usual), nightly);
    }

    [Fact]
    public void A_shop_that_was_closed_for_a_year_still_has_its_last_fortnight() =>
        Assert.Equal(14 + 1, Kept([.. Nights(14), .. Nights(1, 400)], new(15, 0, 0)).Count);

    [Fact]
    public void The_backup_before_an_upgrade_or_a_restore_outlives_a_later_one_of_the_same_day()
    {
        var kept = Kept([At(0, BackupKind.BeforeRestore), At(1, BackupKind.BeforeUpgrade), At(2, BackupKind.Asked), At(3)], new(1, 0, 0));
        Assert.Equal(4, kept.Count);
        Assert.Equal(BackupRetention.NewestOfEachKind, Kept([.. Enumerable.Range(0, 9).Select(h => At(h, BackupKind.BeforeRestore)), At(10)], new(1, 0, 0)).Count - 1);
    }

    [Fact]
    public void A_night_dated_wrong_makes_no_other_backup_go() =>
        Assert.Equal(Kept(Nights(10), new(14, 0, 0)).Count + 1, Kept([.. Nights(10), At(24 * 20_000)], new(14, 0, 0)).Count);

    [Fact]
    public void The_day_is_the_shops_own()
    {
        // An hour before and an hour after midnight in UTC are one afternoon in Honolulu.
        var honolulu = TimeZoneInfo.CreateCustomTimeZone("HST", TimeSpan.FromHours(-10), "HST", "HST");
        BackupInfo[] two = [At(21), At(23)];
        Assert.Equal(two[0], Assert.Single(new BackupRetention(5, 0, 0).Superfluous(two, honolulu)));
        Assert.Empty(new BackupRetention(5, 0, 0).Superfluous(two, TimeZoneInfo.Utc));
    }

    [Fact]
    public void The_newest_always_stays_and_nothing_goes_twice() => Gen.Int[0, 20_000].Array[1, 60].Select(Gen.Int[1, 20], Gen.Int[0, 5], Gen.Int[0, 5]).Sample((hours, days, weeks, months) =>
    {
        var all = hours.Distinct().Select(h => At(h)).ToList();
        var keep = new BackupRetention(days, weeks, months);
        var gone = keep.Superfluous(all, TimeZoneInfo.Utc);
        Assert.DoesNotContain(all.MaxBy(b => b.MadeAt), gone);
        Assert.Equal(gone.Length, gone.Distinct().Count());
        Assert.Empty(keep.Superfluous(all.Except(gone), TimeZoneInfo.Utc));
    });

    private static List<BackupInfo> Kept(IReadOnlyCollection<BackupInfo> all, BackupRetention keep) => [.. all.Except(keep.Superfluous(all, TimeZoneInfo.Utc)).OrderBy(b => b.MadeAt)];

    private static List<BackupInfo> Nights(int count, int after = 0) => [.. Enumerable.Range(after, count).Select(d => At(24 * d))];

    private static BackupInfo At(int hours, BackupKind kind = BackupKind.Nightly) => new()
    {
        Name = $"{hours:D8}", Kind = kind, MadeAt = Start.AddHours(hours), Schema = "x", Orders = 0, Files = 0, Bytes = 0, Missing = [],
    };
}
