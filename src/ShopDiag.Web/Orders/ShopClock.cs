using System.Globalization;
using ShopDiag.Storage.Shop;

namespace ShopDiag.Web.Orders;

/// <summary>Times as the shop says them: in the time zone of the shop's computer, on a twelve-hour clock where US units are in use.</summary>
public sealed class ShopClock(TimeProvider time, ShopSettings settings)
{
    private string Clock => settings.UnitSystem == "us" ? "h:mm tt" : "HH:mm";

    /// <summary>Now, UTC.</summary>
    public DateTime UtcNow => time.GetUtcNow().UtcDateTime;

    /// <summary>The shop's time zone.</summary>
    public TimeZoneInfo Zone => time.LocalTimeZone;

    /// <summary>A time in a few words: <c>today 16:30</c>, <c>tomorrow 9:00</c>, <c>Tue 14 Apr 16:30</c>.</summary>
    public string Say(DateTime utc)
    {
        var local = Local(utc);
        return $"{Say(DateOnly.FromDateTime(local))} {local.ToString(Clock, CultureInfo.InvariantCulture)}";
    }

    /// <summary>Today in the shop.</summary>
    public DateOnly Today => DateOnly.FromDateTime(Local(UtcNow));

    /// <summary>A day in a word or a few: <c>today</c>, <c>tomorrow</c>, <c>yesterday</c>, <c>Tue 14 Apr</c>.</summary>
    public string Say(DateOnly day) => (day.DayNumber - Today.DayNumber) switch
    {
        0 => "today",
        1 => "tomorrow",
        -1 => "yesterday",
        _ => day.ToString(day.Year == Today.Year ? "ddd d MMM" : "d MMM yyyy", CultureInfo.InvariantCulture),
    };

    /// <summary>A time with its whole date, for paper: <c>Tue 14 Apr 2026 16:30</c>.</summary>
    public string Date(DateTime utc) => Local(utc).ToString($"ddd d MMM yyyy {Clock}", CultureInfo.InvariantCulture);

    /// <summary>True when a promise is past.</summary>
    public bool IsLate(DateTime? promisedUtc) => promisedUtc < UtcNow;

    private DateTime Local(DateTime utc) => TimeZoneInfo.ConvertTimeFromUtc(DateTime.SpecifyKind(utc, DateTimeKind.Utc), Zone);
}
