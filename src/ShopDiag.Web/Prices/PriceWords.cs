using System.Collections.Immutable;
using ShopDiag.Diagnosis;
using ShopDiag.Estimates;
using ShopDiag.Web.Shop;

namespace ShopDiag.Web.Prices;

/// <summary>The price list in the words of the shop.</summary>
public static class PriceWords
{
    /// <summary>One example of each kind, for a file to begin with.</summary>
    public static PriceList Examples { get; } = new(
    [
        new() { Kind = LineKind.Part, Name = "Ignition coil", For = "V6 3.6", PriceMinor = 6890, Vendor = "Name of the vendor", Maker = "Name of the maker", PartNumber = "AB-1234" },
        new() { Kind = LineKind.Labour, Name = "Ignition coil failed", Minutes = 25 },
        new() { Kind = LineKind.Fee, Name = "Disposal", PriceMinor = 450, EveryOrder = true },
    ]);

    /// <summary>The kind.</summary>
    public static string Of(LineKind kind) => kind switch
    {
        LineKind.Part => "Part",
        LineKind.Labour => "Labour",
        LineKind.Fee => "Fee",
        _ => throw new ArgumentOutOfRangeException(nameof(kind), kind, "Unknown kind."),
    };

    /// <summary>What it is for.</summary>
    public static string Named(PriceEntry entry)
    {
        ArgumentNullException.ThrowIfNull(entry);
        return entry.For.Length > 0 ? $"{entry.Name} ({entry.For})" : entry.Name;
    }

    /// <summary>What it costs or takes: <c>68.90 USD, core charge 25.00</c>, <c>25 minutes at 120.00 USD an hour</c>.</summary>
    public static string Price(PriceEntry entry, string currency)
    {
        ArgumentNullException.ThrowIfNull(entry);
        return string.Join(", ", new[]
        {
            entry.Minutes is { } minutes ? $"{NumberText.Write(minutes, 2)} minutes" : "",
            entry.PriceMinor is { } price ? $"{Money.Plain(price, currency)} {currency}{(entry.Kind == LineKind.Labour ? " an hour" : "")}" : "",
            entry.CoreMinor > 0 ? $"core charge {Money.Plain(entry.CoreMinor, currency)} {currency}" : "",
            entry.EveryOrder ? "on every order" : "",
        }.Where(t => t.Length > 0));
    }

    /// <summary>Who sells it, who makes it, its number.</summary>
    public static string From(PriceEntry entry)
    {
        ArgumentNullException.ThrowIfNull(entry);
        return string.Join(" · ", new[] { entry.Vendor, string.Join(' ', new[] { entry.Maker, entry.PartNumber }.Where(t => t.Length > 0)) }.Where(t => t.Length > 0));
    }

    /// <summary>Names that the estimate looks for: parts as the causes name them, labour by the cause it mends. Fees have any name.</summary>
    public static ImmutableArray<string> Names(LineKind kind, Knowledge knowledge)
    {
        ArgumentNullException.ThrowIfNull(knowledge);
        var causes = knowledge.Causes.Where(c => !c.Unlisted);
        return kind switch
        {
            LineKind.Part => [.. causes.SelectMany(c => c.Repair.Parts).Select(p => p.Part).Distinct().Order(StringComparer.Ordinal)],
            LineKind.Labour => [.. causes.Select(c => c.Title).Order(StringComparer.Ordinal)],
            LineKind.Fee => [],
            _ => throw new ArgumentOutOfRangeException(nameof(kind), kind, "Unknown kind."),
        };
    }

    /// <summary>True when every word stands somewhere in the entry.</summary>
    public static bool Has(PriceEntry entry, string words)
    {
        ArgumentNullException.ThrowIfNull(entry);
        ArgumentNullException.ThrowIfNull(words);
        string[] texts = [Of(entry.Kind), entry.Name, entry.For, entry.Vendor, entry.Maker, entry.PartNumber];
        return words.Split(' ', StringSplitOptions.RemoveEmptyEntries).All(w => texts.Any(t => t.Contains(w, StringComparison.OrdinalIgnoreCase)));
    }
}
