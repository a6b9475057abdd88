using System.Globalization;
using ShopDiag.Diagnosis;
using ShopDiag.Diagnosis.Engines;
using ShopDiag.Diagnosis.Workups;
using ShopDiag.Reports.Models;

namespace ShopDiag.Reports.Writing;

/// <summary>Values in the words and figures of the papers.</summary>
internal static class Wording
{
    /// <summary>A date in the culture's short form; 2026-05-31 for the invariant culture, whose own short form leaves open which is the month.</summary>
    public static string Date(DateOnly date, CultureInfo culture) => culture.Equals(CultureInfo.InvariantCulture)
        ? date.ToString("O", CultureInfo.InvariantCulture)
        : date.ToString("d", culture);

    /// <summary>The language that the papers are tagged with: the culture's English, or plain English, because the words are.</summary>
    public static string Language(CultureInfo culture) =>
        culture.TwoLetterISOLanguageName == "en" && culture.Name.Contains('-', StringComparison.Ordinal) ? culture.Name : "en";

    /// <summary>Maker, model and year.</summary>
    public static string Vehicle(VehicleOnPaper vehicle) => vehicle.Year is { } year
        ? string.Create(CultureInfo.InvariantCulture, $"{vehicle.Description}, {year}").TrimStart(',', ' ')
        : vehicle.Description;

    /// <summary>A probability as a share of a hundred; the ends are never claimed, because no reading makes a cause that certain.</summary>
    public static string Percent(double probability) => probability switch
    {
        < 0.01 => "under 1 %",
        > 0.99 => "over 99 %",
        _ => string.Create(CultureInfo.InvariantCulture, $"{Math.Round(100 * probability, MidpointRounding.AwayFromZero)} %"),
    };

    /// <summary>Minutes as a person says them: <c>about 1 hour 15 minutes</c>.</summary>
    public static string Labour(double minutes)
    {
        var whole = (int)Math.Round(minutes, MidpointRounding.AwayFromZero);
        var (hours, rest) = (whole / 60, whole % 60);
        return (hours, rest) switch
        {
            (0, 0) => "less than a minute",
            (0, _) => "about " + Count(rest, "minute"),
            (_, 0) => "about " + Count(hours, "hour"),
            _ => $"about {Count(hours, "hour")} {Count(rest, "minute")}",
        };
    }

    /// <summary>A place with its bank or its cylinders, for somebody who has to find it: <c>Cylinder 4, bank 2</c>.</summary>
    public static string Position(Place place, Engine? engine) => place.Kind switch
    {
        PlaceKind.Engine => "Whole engine",
        PlaceKind.Bank when Knows(engine, place) => $"Bank {place.First} (cylinders {string.Join(", ", engine!.CylindersAt(place))})",
        PlaceKind.Cylinder when HasBanks(engine, place) => $"Cylinder {place.First}, bank {engine!.BankOf(place.First)}",
        PlaceKind.Pair when HasBanks(engine, place) && engine!.BankOf(place.First) is var bank => bank == engine.BankOf(place.Second)
            ? $"Cylinders {place.First} and {place.Second}, bank {bank}"
            : $"Cylinders {place.First} (bank {bank}) and {place.Second} (bank {engine.BankOf(place.Second)})",
        _ => Capital(place.ToString()),
    };

    /// <summary>One part in a sentence: <c>1 x Ignition coil (cylinder 3)</c>.</summary>
    public static string Part(RepairPart part) => string.Create(
        CultureInfo.InvariantCulture,
        $"{part.Quantity} × {part.Part} ({part.At}){(part.Together ? ", replaced together with it" : "")}");

    /// <summary>The same words with a capital letter in front.</summary>
    public static string Capital(string words) => words.Length == 0 ? words : char.ToUpperInvariant(words[0]) + words[1..];

    private static string Count(int count, string unit) =>
        string.Create(CultureInfo.InvariantCulture, $"{count} {unit}{(count == 1 ? "" : "s")}");

    private static bool Knows(Engine? engine, Place place) => engine is not null && engine.Has(place);

    private static bool HasBanks(Engine? engine, Place place) => Knows(engine, place) && engine!.Banks.Length > 1;
}
