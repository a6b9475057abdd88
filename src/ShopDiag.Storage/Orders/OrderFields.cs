using System.Collections.Immutable;
using System.Globalization;
using System.Text.RegularExpressions;
using ShopDiag.Diagnosis;
using ShopDiag.Diagnosis.Workups;
using ShopDiag.Storage.People;
using ShopDiag.Storage.Rows;

namespace ShopDiag.Storage.Orders;

/// <summary>One field: how it is shown, how typed text becomes its value, where the value goes.</summary>
/// <param name="Show">The text that stands for the value.</param>
/// <param name="Read">Typed text in the same form as <paramref name="Show"/> gives it, or why it cannot be a value. Its own answer goes through unchanged.</param>
/// <param name="Put">Puts what <paramref name="Read"/> answered on the row.</param>
/// <param name="IsShared">True for a field of the customer or the vehicle, who may be on other orders too.</param>
internal sealed record FieldRule(
    Func<RepairOrder, string> Show, Func<string, Parsed<string>> Read, Action<OrderRow, string> Put, bool IsShared = false);

/// <summary>The fields that save themselves, one rule each.</summary>
internal static partial class OrderFields
{
    /// <summary>Signs in a name, a plate, a car in words.</summary>
    private const int LineLength = 200;

    /// <summary>Signs in a concern: about two pages.</summary>
    private const int ConcernLength = 8000;

    private const string PromiseForm = "yyyy-MM-dd'T'HH:mm:ss.fffffff'Z'";

    private static readonly ImmutableDictionary<OrderField, FieldRule> Rules = new Dictionary<OrderField, FieldRule>
    {
        [OrderField.CustomerName] = Line(o => o.Customer.Name, (o, v) => o.Customer!.Name = v, isShared: true),
        [OrderField.CustomerPhone] = Line(o => o.Customer.Phone, (o, v) => o.Customer!.Phone = v, isShared: true),
        [OrderField.CustomerEmail] = new(o => o.Customer.Email, Email, (o, v) => o.Customer!.Email = v, IsShared: true),
        [OrderField.VehiclePlate] = Line(o => o.Vehicle.Plate, (o, v) => o.Vehicle!.Plate = v, isShared: true),
        [OrderField.VehicleVin] = new(
            o => o.Vehicle.Vin,
            t => Text(PlainText.Line(t).ToUpperInvariant(), LineLength),
            (o, v) => o.Vehicle!.Vin = v,
            IsShared: true),
        [OrderField.VehicleDescription] = Line(o => o.Vehicle.Description, (o, v) => o.Vehicle!.Description = v, isShared: true),
        [OrderField.VehicleYear] = new(
            o => Show(o.Vehicle.Year),
            t => Number(t, 1950, 2100, orEmpty: true),
            (o, v) => o.Vehicle!.Year = Whole(v),
            IsShared: true),
        [OrderField.Odometer] = new(
            o => Show(o.Odometer),
            t => Number(t, 0, 9_999_999, orEmpty: true),
            (o, v) => o.Odometer = Whole(v)),
        [OrderField.OdometerUnit] = new(
            o => o.OdometerUnit,
            t => OneOf(t, ["km", "mi"]),
            (o, v) => o.OdometerUnit = v),
        [OrderField.ConcernText] = Lines(o => o.ConcernText, (o, v) => o.ConcernText = v),
        [OrderField.ConcernCodes] = new(
            o => string.Join(", ", o.Concern.Codes),
            Codes,
            (o, v) => o.ConcernCodes = OrderMap.List(Words(v))),
        [OrderField.ConcernLamp] = new(
            o => o.Concern.Lamp.ToString(),
            t => OneOf(t, [.. Enum.GetNames<Lamp>()]),
            (o, v) => o.ConcernLamp = Enum.Parse<Lamp>(v)),
        [OrderField.ConcernWhen] = new(
            o => string.Join(", ", o.Concern.When),
            Conditions,
            (o, v) => o.ConcernWhen = OrderMap.List(Words(v))),
        [OrderField.Technician] = Line(o => o.Technician, (o, v) => o.Technician = v),
        [OrderField.PromisedAt] = new(
            o => o.PromisedAt?.ToString(PromiseForm, CultureInfo.InvariantCulture) ?? "",
            Promise,
            (o, v) => o.PromisedAt = v.Length == 0 ? null : Utc(v)),
        [OrderField.AuthorisedMinutes] = new(
            o => Show(o.AuthorisedMinutes),
            t => Number(t, 0, 10_000, orEmpty: false),
            (o, v) => o.AuthorisedMinutes = Whole(v)!.Value),
        [OrderField.DiagnosisPriceMinor] = new(
            o => Show(o.DiagnosisPriceMinor),
            t => Number(t, 0, long.MaxValue, orEmpty: true),
            (o, v) => o.DiagnosisPriceMinor = v.Length == 0 ? null : long.Parse(v, CultureInfo.InvariantCulture)),
        [OrderField.MinutesSpent] = new(
            o => Show(o.MinutesSpent),
            t => Number(t, 0, 10_000, orEmpty: true),
            (o, v) => o.MinutesSpent = Whole(v)),
        [OrderField.WrittenConcern] = Lines(o => o.WrittenConcern, (o, v) => o.WrittenConcern = v),
        [OrderField.WrittenCause] = Lines(o => o.WrittenCause, (o, v) => o.WrittenCause = v),
        [OrderField.WrittenCorrection] = Lines(o => o.WrittenCorrection, (o, v) => o.WrittenCorrection = v),
        [OrderField.CodesCleared] = new(o => o.CodesCleared, t => OneOf(t, ["", "Yes", "No"]), (o, v) => o.CodesCleared = v),
        [OrderField.MonitorsNoted] = Line(o => o.MonitorsNoted, (o, v) => o.MonitorsNoted = v),
    }.ToImmutableDictionary();

    /// <summary>Conditions under which a misfire can happen, as <see cref="Concern.When"/> names them.</summary>
    private static readonly ImmutableArray<string> KnownConditions = ["idle", "load", "cold", "hot", "wet", "always", "after-work"];

    /// <summary>The rule of a field.</summary>
    public static FieldRule Of(OrderField field) => Rules.TryGetValue(field, out var rule)
        ? rule
        : throw new ArgumentOutOfRangeException(nameof(field), field, "No such field.");

    /// <summary>What somebody must be allowed who changes a field.</summary>
    public static Permission Needs(OrderField field) => field switch
    {
        OrderField.CustomerPhone or OrderField.CustomerEmail => Permission.SeeContacts,
        OrderField.DiagnosisPriceMinor => Permission.EditEstimates,
        _ => Permission.WorkOnOrders,
    };

    /// <summary>True for what says who the customer is. The record that is never changed says only that it was changed: a customer can ask to be forgotten.</summary>
    public static bool IsPersonal(OrderField field) =>
        field is OrderField.CustomerName or OrderField.CustomerPhone or OrderField.CustomerEmail or OrderField.VehiclePlate or OrderField.VehicleVin;

    private static FieldRule Line(Func<RepairOrder, string> show, Action<OrderRow, string> put, bool isShared = false) =>
        new(show, t => Text(PlainText.Line(t), LineLength), put, isShared);

    private static FieldRule Lines(Func<RepairOrder, string> show, Action<OrderRow, string> put) =>
        new(show, t => Text(PlainText.Lines(t), ConcernLength), put);

    private static Parsed<string> Text(string text, int length) => text.Length <= length
        ? text
        : Refusal(string.Create(CultureInfo.InvariantCulture, $"At most {length} letters fit here; these are {text.Length}."));

    private static Parsed<string> OneOf(string text, ImmutableArray<string> words) =>
        words.FirstOrDefault(w => string.Equals(w, PlainText.Line(text), StringComparison.OrdinalIgnoreCase)) is { } word
            ? word
            : Refusal($"“{PlainText.Line(text)}” cannot be chosen here. One of: {string.Join(", ", words)}.");

    /// <summary>Digits, with or without marks between the thousands. A decimal point is refused rather than guessed at.</summary>
    private static Parsed<string> Number(string text, long min, long max, bool orEmpty)
    {
        var line = PlainText.Line(text);
        if (line.Length == 0 && orEmpty)
        {
            return "";
        }

        var digits = Thousands().IsMatch(line) ? string.Concat(line.Where(char.IsAsciiDigit)) : line;
        return long.TryParse(digits, NumberStyles.None, CultureInfo.InvariantCulture, out var number) && number >= min && number <= max
            ? number.ToString(CultureInfo.InvariantCulture)
            : Refusal(Range(line, min, max, orEmpty));
    }

    private static string Range(string line, long min, long max, bool orEmpty)
    {
        var bounds = max == long.MaxValue
            ? string.Create(CultureInfo.InvariantCulture, $"from {min}")
            : string.Create(CultureInfo.InvariantCulture, $"from {min} to {max}");
        return $"“{line}” cannot be kept here. A whole number {bounds}{(orEmpty ? ", or nothing" : "")}.";
    }

    private static Parsed<string> Email(string text)
    {
        var line = PlainText.Line(text);
        return line.Length == 0 || MailAddress().IsMatch(line)
            ? Text(line, LineLength)
            : Refusal($"“{line}” is no e-mail address. A name, one @ and where the mail goes, such as ada@example.com, or nothing.");
    }

    private static Parsed<string> Codes(string text)
    {
        var codes = Words(PlainText.Line(text).ToUpperInvariant());
        return codes.FirstOrDefault(c => !TroubleCode().IsMatch(c)) is { } wrong
            ? Refusal($"“{wrong}” is no trouble code. One of P, C, B, U, then a digit 0 to 3 and three digits or letters A to F, such as P0301.")
            : string.Join(", ", codes.Distinct());
    }

    private static Parsed<string> Conditions(string text)
    {
        var conditions = Words(PlainText.Line(text).ToLowerInvariant());
        return conditions.FirstOrDefault(c => !KnownConditions.Contains(c)) is { } wrong
            ? Refusal($"“{wrong}” is no condition known here. Any of: {string.Join(", ", KnownConditions)}.")
            : string.Join(", ", conditions.Distinct());
    }

    private static Parsed<string> Promise(string text)
    {
        var line = PlainText.Line(text);
        if (line.Length == 0)
        {
            return "";
        }

        return PromiseText().IsMatch(line) && DateTimeOffset.TryParse(line, CultureInfo.InvariantCulture, DateTimeStyles.None, out var promised)
            ? promised.UtcDateTime.ToString(PromiseForm, CultureInfo.InvariantCulture)
            : Refusal($"“{line}” is no time. A date and time with its zone, such as 2026-03-05T16:30:00Z, or nothing.");
    }

    private static ImmutableArray<string> Words(string text) =>
        [.. text.Split([',', ';', ' '], StringSplitOptions.RemoveEmptyEntries)];

    private static string Show(long? number) => number?.ToString(CultureInfo.InvariantCulture) ?? "";

    private static int? Whole(string text) => text.Length == 0 ? null : int.Parse(text, CultureInfo.InvariantCulture);

    private static DateTime Utc(string text) =>
        DateTime.ParseExact(text, PromiseForm, CultureInfo.InvariantCulture, DateTimeStyles.AssumeUniversal | DateTimeStyles.AdjustToUniversal);

    private static InputError Refusal(string message) => new("", message);

    [GeneratedRegex(@"^\d{1,3}([,' \u00A0\u202F]\d{3})+$", RegexOptions.CultureInvariant)]
    private static partial Regex Thousands();

    /// <summary>Only what no address can be without (RFC 5321, 4.1.2 with names of more than one part): whether it exists, only a letter to it can say.</summary>
    [GeneratedRegex(@"^[^@\s,;<>""]+@[^@\s,;<>""\.]+(\.[^@\s,;<>""\.]+)+$", RegexOptions.CultureInvariant)]
    private static partial Regex MailAddress();

    /// <summary>Two bits for the letter, two for the first digit, four for each of the others (SAE J2012).</summary>
    [GeneratedRegex("^[PCBU][0-3][0-9A-F]{3}$", RegexOptions.CultureInvariant)]
    private static partial Regex TroubleCode();

    [GeneratedRegex(@"^\d{4}-\d{2}-\d{2}T\d{2}:\d{2}(:\d{2}(\.\d{1,7})?)?(Z|[+-]\d{2}:\d{2})$", RegexOptions.CultureInvariant)]
    private static partial Regex PromiseText();
}
