namespace ShopDiag.Storage.Comebacks;

/// <summary>Small things that cases are made of.</summary>
internal static class CaseRows
{
    /// <summary>The international mile.</summary>
    public const double KilometresPerMile = 1.609344;

    /// <summary>A time as seconds since 1970, a begun one not counted.</summary>
    public static long Seconds(DateTime utc) => (utc.Ticks - DateTime.UnixEpoch.Ticks) / TimeSpan.TicksPerSecond;

    /// <summary>The day of a time in the shop.</summary>
    public static DateOnly Day(DateTime utc, TimeZoneInfo zone) =>
        DateOnly.FromDateTime(TimeZoneInfo.ConvertTimeFromUtc(DateTime.SpecifyKind(utc, DateTimeKind.Utc), zone));
}
