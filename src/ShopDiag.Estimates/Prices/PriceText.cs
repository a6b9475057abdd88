using System.Collections.Immutable;
using System.Globalization;
using ShopDiag.Diagnosis;

namespace ShopDiag.Estimates;

/// <summary>An entry of the price list as the texts of its columns: what stands in a file and what is typed on the screen are read by the same rules.</summary>
public static class PriceText
{
    /// <summary>Most letters of one text.</summary>
    public const int MostLetters = 200;

    /// <summary>The columns, in the order they are written.</summary>
    public static ImmutableArray<string> Columns { get; } = ["kind", "name", "for", "price", "core", "minutes", "vendor", "maker", "part number", "every order"];

    /// <summary>The text of each column.</summary>
    public static ImmutableDictionary<string, string> Show(PriceEntry entry, string currency)
    {
        ArgumentNullException.ThrowIfNull(entry);
        return new Dictionary<string, string>
        {
            ["kind"] = entry.Kind.ToString().ToLowerInvariant(),
            ["name"] = entry.Name,
            ["for"] = entry.For,
            ["price"] = entry.PriceMinor is { } price ? Money.Plain(price, currency) : "",
            ["core"] = entry.CoreMinor == 0 ? "" : Money.Plain(entry.CoreMinor, currency),
            ["minutes"] = entry.Minutes?.ToString(CultureInfo.InvariantCulture) ?? "",
            ["vendor"] = entry.Vendor,
            ["maker"] = entry.Maker,
            ["part number"] = entry.PartNumber,
            ["every order"] = entry.EveryOrder ? "yes" : "",
        }.ToImmutableDictionary();
    }

    /// <summary>Reads an entry out of the texts of its columns; <see cref="InputError.At"/> is the column that is wrong.</summary>
    /// <param name="column">The text of a column; empty where there is none.</param>
    /// <param name="currency">The shop's currency.</param>
    public static Parsed<PriceEntry> Read(Func<string, string> column, string currency)
    {
        ArgumentNullException.ThrowIfNull(column);
        var texts = Columns.ToDictionary(c => c, c => Clean(column(c)));
        if (Columns.FirstOrDefault(c => texts[c].Length > MostLetters) is { } tooLong)
        {
            return new InputError(tooLong, $"The {tooLong} has more than {MostLetters} letters.");
        }

        if (KindOf(texts["kind"]) is not { } kind)
        {
            return new InputError("kind", $"“{texts["kind"]}” is no kind: part, labour or fee.");
        }

        if (texts["name"].Length == 0)
        {
            return new InputError("name", "The name is missing.");
        }

        var (price, core, minutes) = (Amount(texts, "price", currency), Amount(texts, "core", currency), Minutes(texts["minutes"]));
        if ((price.Error ?? core.Error ?? minutes.Error) is { } error)
        {
            return error;
        }

        return Lacks(kind, price.Value, minutes.Value) is { } lack ? new InputError("price", lack) : new PriceEntry
        {
            Kind = kind,
            Name = texts["name"],
            For = texts["for"],
            PriceMinor = price.Value,
            CoreMinor = core.Value ?? 0,
            Minutes = minutes.Value,
            Vendor = texts["vendor"],
            Maker = texts["maker"],
            PartNumber = texts["part number"],
            EveryOrder = kind == LineKind.Fee && texts["every order"].ToLowerInvariant() is "yes" or "y" or "1" or "true" or "x",
        };
    }

    private static string? Lacks(LineKind kind, long? price, double? minutes) => kind switch
    {
        LineKind.Labour => price is null && minutes is null ? "Labour needs minutes, a price an hour, or both." : null,
        _ => price is null ? "The price is missing." : null,
    };

    // Control characters that no keyboard makes; a NUL would cut the text short in many tools.
    private static string Clean(string text) => string.Concat(text.Where(c => !char.IsControl(c) || c is '\n' or '\t')).Trim();

    private static LineKind? KindOf(string word) => word.ToLowerInvariant() switch
    {
        "part" => LineKind.Part,
        "labour" or "labor" => LineKind.Labour,
        "fee" => LineKind.Fee,
        _ => null,
    };

    private static Parsed<long?> Amount(Dictionary<string, string> texts, string what, string currency)
    {
        if (texts[what].Length == 0)
        {
            return (long?)null;
        }

        var amount = Money.Read(texts[what], currency);
        return amount.IsValid ? amount.Value : new InputError(what, $"The {what}: {amount.Error!.Message}");
    }

    private static Parsed<double?> Minutes(string text)
    {
        if (text.Length == 0)
        {
            return (double?)null;
        }

        return double.TryParse(text, NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out var minutes) && minutes is >= 0 and <= 10_000
            ? minutes
            : new InputError("minutes", $"“{text}” are no minutes: a number from 0 to 10000.");
    }
}
