using System.Collections.Immutable;
using System.Globalization;
using ShopDiag.Comebacks.Figures;
using ShopDiag.Comebacks.Statistics;
using ShopDiag.Diagnosis;
using ShopDiag.Diagnosis.Learning;
using ShopDiag.Web.Shop;

namespace ShopDiag.Web.Owner;

/// <summary>The owner's figures in the words of the shop. None of them says whose fault anything is.</summary>
public static class OwnerWords
{
    /// <summary>The groupings in the order in which they are offered.</summary>
    public static ImmutableArray<Grouping> Offered { get; } =
        [Grouping.Diagnosis, Grouping.Technician, Grouping.EngineFamily, Grouping.PartMaker, Grouping.Vendor, Grouping.Proof, Grouping.RepairCheck, Grouping.All];

    /// <summary>A grouping.</summary>
    public static string Of(Grouping by) => by switch
    {
        Grouping.All => "All together",
        Grouping.Diagnosis => "Cause repaired",
        Grouping.Technician => "Technician",
        Grouping.EngineFamily => "Engines",
        Grouping.PartMaker => "Maker of the parts",
        Grouping.Vendor => "Vendor of the parts",
        Grouping.Proof => "Cause proven or not",
        Grouping.RepairCheck => "Repair check done or not",
        _ => throw new ArgumentOutOfRangeException(nameof(by), by, "Unknown grouping."),
    };

    /// <summary>What a group has in common.</summary>
    public static string Group(Grouping by, string key, Knowledge knowledge)
    {
        ArgumentNullException.ThrowIfNull(key);
        ArgumentNullException.ThrowIfNull(knowledge);
        return (by, key) switch
        {
            (Grouping.All, _) => "All repairs",
            (_, "") => "Not said",
            (Grouping.Diagnosis, _) => knowledge.Cause(key)?.Title ?? key,
            (Grouping.EngineFamily, _) => EngineFamily.Read(key) is { } family ? LearningWords.Of(family) : key,
            (Grouping.Proof, "given") => "Cause proven",
            (Grouping.Proof, "skipped") => "Taken over without proof",
            (Grouping.RepairCheck, "done") => "Checked after the repair",
            (Grouping.RepairCheck, "skipped") => "Not checked, or not whole",
            _ => key,
        };
    }

    /// <summary>What became of repairs.</summary>
    public static string Of(Standing standing) => standing switch
    {
        Standing.CameBack => "came back within the window",
        Standing.CameBackLater => "came back later",
        Standing.Undecided => "a later order nobody has decided on",
        Standing.Held => "held",
        Standing.TooEarly => "too early to say",
        _ => throw new ArgumentOutOfRangeException(nameof(standing), standing, "Unknown standing."),
    };

    /// <summary>The ages of a band.</summary>
    public static string Age(AgeBand band)
    {
        ArgumentNullException.ThrowIfNull(band);
        return band.ToDays is { } to ? string.Create(CultureInfo.InvariantCulture, $"{band.FromDays} to {to} days") : string.Create(CultureInfo.InvariantCulture, $"{band.FromDays} days and more");
    }

    /// <summary>A share in percent with one decimal; a dash for none.</summary>
    public static string Percent(double? share) => share is { } value ? Math.Round(value * 100, 1, MidpointRounding.AwayFromZero).ToString("0.0", CultureInfo.InvariantCulture) + " %" : "–";

    /// <summary>Between which shares.</summary>
    public static string Percent(Interval interval) => $"{Percent(interval.Low)} to {Percent(interval.High)}";

    /// <summary>The share still good, with its interval; said when it is not known or rests on few.</summary>
    public static string Good(StillGood good) => good.Share is { } share
        ? $"{Percent(share.Survival)} ({Percent(share.Band)}){(good.IsSmall ? Watched(share.AtRisk) : "")}"
        : "not known yet";

    private static string Watched(int cars) => cars switch
    {
        0 => ", no car left to watch",
        1 => ", from a single car watched that long",
        _ => string.Create(CultureInfo.InvariantCulture, $", from only {cars} cars watched that long"),
    };

    /// <summary>A day or distance on a scale.</summary>
    public static string At(OwnerReport report, int at)
    {
        ArgumentNullException.ThrowIfNull(report);
        return report.Asks.OverDistance ? string.Create(CultureInfo.InvariantCulture, $"{at:#,0} {report.Distances.Unit}") : string.Create(CultureInfo.InvariantCulture, $"{at} days");
    }

    /// <summary>The days that were asked about.</summary>
    public static string Days(OwnerAsks asks)
    {
        ArgumentNullException.ThrowIfNull(asks);
        return (asks.From, asks.To) switch
        {
            (null, null) => "all repairs handed over so far",
            ({ } from, null) => $"repairs handed over from {OwnerLinks.Day(from)}",
            (null, { } to) => $"repairs handed over until {OwnerLinks.Day(to)}",
            ({ } from, { } to) => $"repairs handed over from {OwnerLinks.Day(from)} to {OwnerLinks.Day(to)}",
        };
    }

    /// <summary>When the same trouble counts as a comeback.</summary>
    public static string Window(OwnerReport report)
    {
        ArgumentNullException.ThrowIfNull(report);
        var window = report.Figures.Question.Window;
        return string.Create(CultureInfo.InvariantCulture, $"A comeback is the same trouble again within {window.Days} days{(window.Kilometres is { } km ? $" and {report.Distances.Say(km)}" : "")}, confirmed by a person.");
    }

    /// <summary>A group against the others.</summary>
    public static string Compared(GroupComparison? comparison) => comparison switch
    {
        null => "too few to compare",
        { Differs: false } c => $"no more apart from the others than chance makes ({Chance(c.AdjustedP)})",
        { } c => $"{(c.Test.Observed > c.Test.Expected ? "more" : "fewer")} comebacks than the others ({Chance(c.AdjustedP)})",
    };

    /// <summary>A probability by chance, adjusted for all comparisons.</summary>
    public static string Chance(double p) => p < 0.001 ? "by chance under 0.1 %" : $"by chance {Percent(p)}";

    /// <summary>Minutes as hours with one decimal.</summary>
    public static string Hours(long minutes) => Math.Round(minutes / 60m, 1, MidpointRounding.AwayFromZero).ToString("#,0.0", CultureInfo.InvariantCulture) + " h";
}
