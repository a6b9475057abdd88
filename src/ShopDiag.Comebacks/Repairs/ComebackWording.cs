using System.Globalization;

namespace ShopDiag.Comebacks.Repairs;

/// <summary>The sentences of a proposal. They say what is the same, never whose work it was.</summary>
internal static class ComebackWording
{
    private const double KilometresAMile = 1.609344;

    public static string Since(int number, int days, int? kilometres, DistanceUnit unit)
    {
        var ago = days == 0 ? "the same day" : $"{Count(days, "day", "days")} ago";
        return kilometres is { } km
            ? $"Order {Plain(number)} was handed over {ago} and {Distance(km, unit)} back."
            : $"Order {Plain(number)} was handed over {ago}. How far the car went since is not known.";
    }

    public static string Cylinders(IEnumerable<int> cylinders) =>
        $"{Capital(List("cylinder", "cylinders", [.. cylinders.Select(Plain)]))} {(cylinders.Count() == 1 ? "shows" : "show")} the trouble again.";

    public static string Banks(IEnumerable<int> banks) => $"{Capital(List("bank", "banks", [.. banks.Select(Plain)]))} {(banks.Count() == 1 ? "shows" : "show")} the trouble again.";

    public static string Codes(IEnumerable<string> codes) => $"{List("Code", "Codes", [.. codes])} {(codes.Count() == 1 ? "is" : "are")} stored again.";

    public static string GeneralCode() => "P0300, misfire of no cylinder in particular, is stored again.";

    public static string Conditions(IEnumerable<string> when) => $"It happens again {Joined([.. when.Select(Condition)])}.";

    public static string Words(IEnumerable<string> words) => $"The customer says again: {Joined([.. words])}.";

    public static string OtherCylinders(IEnumerable<int> then, IEnumerable<int> now) =>
        $"Then {List("cylinder", "cylinders", [.. then.Select(Plain)])}, now {List("cylinder", "cylinders", [.. now.Select(Plain)])}.";

    public static string OtherConditions(IEnumerable<string> then, IEnumerable<string> now) =>
        $"Then it happened {Joined([.. then.Select(Condition)])}, now {Joined([.. now.Select(Condition)])}.";

    private static string Condition(string id) => id switch
    {
        "idle" => "at idle",
        "load" => "under load",
        "cold" => "with the engine cold",
        "hot" => "with the engine hot",
        "wet" => "in the wet",
        "always" => "all the time",
        "after-work" => "after work on the car",
        _ => id,
    };

    private static string Distance(int kilometres, DistanceUnit unit) => unit switch
    {
        DistanceUnit.Kilometres => $"{Grouped(kilometres)} km",
        DistanceUnit.Miles => Count((int)Math.Round(kilometres / KilometresAMile, MidpointRounding.AwayFromZero), "mile", "miles"),
        _ => throw new ArgumentOutOfRangeException(nameof(unit), unit, "Unknown unit of distance."),
    };

    private static string Count(int number, string one, string many) => $"{Grouped(number)} {(number == 1 ? one : many)}";

    private static string Plain(int number) => number.ToString(CultureInfo.InvariantCulture);

    // As the reader writes thousands.
    private static string Grouped(int number) => number.ToString("N0", CultureInfo.CurrentCulture);

    private static string List(string one, string many, string[] items) => $"{(items.Length == 1 ? one : many)} {Joined(items)}";

    private static string Joined(string[] items) => items.Length < 2 ? string.Concat(items) : $"{string.Join(", ", items[..^1])} and {items[^1]}";

    private static string Capital(string text) => char.ToUpperInvariant(text[0]) + text[1..];
}
