using System.Globalization;
using ShopDiag.Diagnosis;
using ShopDiag.Estimates;
using ShopDiag.Storage.Orders;

namespace ShopDiag.Web.Orders;

/// <summary>Between the text on the screen and the text that the store keeps, for the few fields where they differ.</summary>
/// <param name="ToScreen">From the store's text.</param>
/// <param name="ToStore">To the store's text, or why it cannot be.</param>
public sealed record FieldCodec(Func<string, string> ToScreen, Func<string, Parsed<string>> ToStore)
{
    private const string LocalForm = "yyyy-MM-dd'T'HH:mm";
    private static readonly FieldCodec Same = new(t => t, t => t);

    /// <summary>The codec of a field.</summary>
    public static FieldCodec Of(OrderField field, string currency, TimeZoneInfo zone) => field switch
    {
        OrderField.PromisedAt => new(t => Local(t, zone), t => Utc(t, zone)),
        OrderField.DiagnosisPriceMinor => new(t => Amount(t, currency), t => Minor(t, currency)),
        OrderField.AuthorisedMinutes => new(t => t == "0" ? "" : t, t => t.Trim().Length == 0 ? "0" : t),
        _ => Same,
    };

    /// <summary>Saves a text of the screen by a function that speaks the store's language, and turns its answer back.</summary>
    public async Task<SaveResult> SaveAsync(string value, string? baseValue, Func<string, string?, Task<SaveResult>> save)
    {
        ArgumentNullException.ThrowIfNull(save);
        var text = ToStore(value);
        if (!text.IsValid)
        {
            return new SaveResult(SaveOutcome.Refused, baseValue ?? "", text.Error!.Message);
        }

        // A base that cannot be read was never the database's: then nothing is known of what was there, and the check is left out.
        var before = baseValue is not null && ToStore(baseValue) is { IsValid: true } known ? known.Value : null;
        var result = await save(text.Value, before);
        return result with { Current = ToScreen(result.Current) };
    }

    private static string Local(string utc, TimeZoneInfo zone) => DateTimeOffset.TryParse(utc, CultureInfo.InvariantCulture, DateTimeStyles.AssumeUniversal, out var at)
        ? TimeZoneInfo.ConvertTime(at, zone).ToString(LocalForm, CultureInfo.InvariantCulture)
        : "";

    private static Parsed<string> Utc(string local, TimeZoneInfo zone)
    {
        if (local.Trim().Length == 0)
        {
            return "";
        }

        if (!DateTime.TryParseExact(local.Trim()[..Math.Min(16, local.Trim().Length)], LocalForm, CultureInfo.InvariantCulture, DateTimeStyles.None, out var at))
        {
            return new InputError("", "A date and a time, or nothing.");
        }

        return zone.IsInvalidTime(at)
            ? new InputError("", "The clocks are put forward then: that hour does not exist.")
            : TimeZoneInfo.ConvertTimeToUtc(at, zone).ToString(LocalForm + "':00Z'", CultureInfo.InvariantCulture);
    }

    private static string Amount(string minor, string currency) => long.TryParse(minor, NumberStyles.None, CultureInfo.InvariantCulture, out var amount)
        ? Money.Plain(amount, currency)
        : "";

    private static Parsed<string> Minor(string text, string currency)
    {
        if (text.Trim().Length == 0)
        {
            return "";
        }

        var amount = Money.Read(text, currency);
        return amount.IsValid ? amount.Value.ToString(CultureInfo.InvariantCulture) : amount.Error!;
    }
}
