using System.Collections.Immutable;
using System.Globalization;
using ShopDiag.Comebacks.Figures;
using ShopDiag.Diagnosis;
using ShopDiag.Storage.Orders;
using ShopDiag.Web.Orders;

namespace ShopDiag.Web.Owner;

/// <summary>Which orders stand behind a figure.</summary>
public enum OwnerListKind
{
    /// <summary>Repairs.</summary>
    Repairs,

    /// <summary>Repairs whose window's days are over and that are decided on.</summary>
    FirstTime,

    /// <summary>Repairs that came back by a day, or were watched at least that long.</summary>
    Days,

    /// <summary>The same by a distance.</summary>
    Distance,

    /// <summary>Proven repairs whose bench minutes are known; the group is a cause.</summary>
    Bench,

    /// <summary>Repairs on which parts were fitted without proof.</summary>
    Unproven,

    /// <summary>Repairs of which minutes billed and spent are known.</summary>
    Hours,

    /// <summary>Open orders of an age.</summary>
    Open,
}

/// <summary>A list of orders behind a figure, as it stands in an address.</summary>
/// <param name="Kind">Which.</param>
/// <param name="Group">Of which group; null for all.</param>
/// <param name="Became">Only those that became this; null for any.</param>
/// <param name="At">The day, distance or least age that the list is for; 0 where it is for none.</param>
public sealed record OwnerListAsk(OwnerListKind Kind, string? Group = null, Standing? Became = null, int At = 0)
{
    /// <summary>The address of the list.</summary>
    public string Link(OwnerAsks asks)
    {
        var more = new List<string> { $"list={Word(Kind)}" };
        more.AddRange(Group is null ? [] : [$"group={Uri.EscapeDataString(Group)}"]);
        more.AddRange(Became is { } became ? [$"became={Word(became)}"] : []);
        more.AddRange(At == 0 ? [] : [string.Create(CultureInfo.InvariantCulture, $"at={At}")]);
        return $"{OwnerLinks.To("/owner/orders", asks)}&{string.Join('&', more)}";
    }

    /// <summary>From the words of an address; what is not known counts as not said.</summary>
    public static OwnerListAsk Read(string? list, string? group, string? became, int? at) => new(Read<OwnerListKind>(list) ?? OwnerListKind.Repairs, group, Read<Standing>(became), at ?? 0);

    private static string Word<T>(T value)
        where T : struct, Enum => value.ToString().ToLowerInvariant();

    private static T? Read<T>(string? word)
        where T : struct, Enum => Enum.TryParse<T>(word, ignoreCase: true, out var value) && Enum.IsDefined(value) ? value : null;
}

/// <summary>One order of a list.</summary>
/// <param name="Number">Its number.</param>
/// <param name="Day">The day it was handed over, or written up while it is open.</param>
/// <param name="Technician">Who had it.</param>
/// <param name="About">What was repaired, or where it stands.</param>
/// <param name="Became">What became of it.</param>
/// <param name="Return">The order on which it came back.</param>
public sealed record OwnerListRow(int Number, DateOnly Day, string Technician, string About, string Became, int? Return);

/// <summary>Makes lists of orders behind figures.</summary>
public static class OwnerLists
{
    /// <summary>The orders, the newest first; an open list the oldest first.</summary>
    public static ImmutableArray<OwnerListRow> Of(OwnerReport report, OwnerListAsk ask, Knowledge knowledge)
    {
        ArgumentNullException.ThrowIfNull(report);
        ArgumentNullException.ThrowIfNull(ask);
        return ask.Kind == OwnerListKind.Open
            ? [.. report.Open.Bands.Where(b => b.FromDays == ask.At).SelectMany(b => b.Orders).Select(Row)]
            : [.. Repairs(report, ask).Where(f => ask.Became is null || f.Standing == ask.Became).OrderByDescending(f => f.Case.Number).Select(f => Row(report, f, knowledge))];
    }

    /// <summary>What the list is of, in words.</summary>
    public static string Title(OwnerReport report, OwnerListAsk ask, Knowledge knowledge)
    {
        ArgumentNullException.ThrowIfNull(report);
        ArgumentNullException.ThrowIfNull(ask);
        var by = ask.Kind == OwnerListKind.Bench ? Grouping.Diagnosis : report.Figures.By;
        var who = report.Asks.Technician is { Length: > 0 } name ? $"{name}: " : "";
        var group = ask.Group is { } key ? $"{OwnerWords.Group(by, key, knowledge)}: " : "";
        return who + group + Kind(report, ask) + (ask.Became is { } became ? $", {OwnerWords.Of(became)}" : "");
    }

    private static string Kind(OwnerReport report, OwnerListAsk ask) => ask.Kind switch
    {
        OwnerListKind.Repairs => "repairs",
        OwnerListKind.FirstTime => "repairs whose days are over",
        OwnerListKind.Days => string.Create(CultureInfo.InvariantCulture, $"repairs that came back within {ask.At} days or were watched that long"),
        OwnerListKind.Distance => string.Create(CultureInfo.InvariantCulture, $"repairs that came back within {ask.At:#,0} {report.Distances.Unit} or went that far"),
        OwnerListKind.Bench => "proven repairs",
        OwnerListKind.Unproven => "repairs with parts fitted without proof",
        OwnerListKind.Hours => "repairs of which minutes billed and spent are known",
        OwnerListKind.Open => report.Open.Bands.FirstOrDefault(b => b.FromDays == ask.At) is { } band ? $"open orders, {OwnerWords.Age(band)}" : "open orders",
        _ => throw new ArgumentOutOfRangeException(nameof(ask), ask.Kind, "Unknown list."),
    };

    private static IEnumerable<FollowedRepair> Repairs(OwnerReport report, OwnerListAsk ask) => ask.Kind switch
    {
        OwnerListKind.Repairs => Group(report, ask),
        OwnerListKind.FirstTime => Group(report, ask).Where(f => f.Settled && f.Standing != Standing.Undecided),
        OwnerListKind.Days => Group(report, ask).Where(f => f.Days >= ask.At || f.Return is not null && f.Days <= ask.At),
        OwnerListKind.Distance => Group(report, ask).Where(f => f.Kilometres >= report.Distances.Axis.InCurve(ask.At) || f.Return is not null && f.Kilometres <= report.Distances.Axis.InCurve(ask.At)),
        OwnerListKind.Bench => report.Followed.All.Where(f => f.Case is { ProofGiven: true, MinutesToProof: not null } && f.Case.Repaired.Any(r => r.Cause == ask.Group)),
        OwnerListKind.Unproven => report.Followed.All.Where(f => f.Case.Parts.Any(p => p.WithoutProof)),
        OwnerListKind.Hours => Group(report, ask).Where(f => f.Case is { MinutesBilled: not null, MinutesSpent: not null }),
        _ => throw new ArgumentOutOfRangeException(nameof(ask), ask.Kind, "Unknown list."),
    };

    private static IEnumerable<FollowedRepair> Group(OwnerReport report, OwnerListAsk ask) => ask.Group is not { } key
        ? report.Figures.All.Followed
        : report.Figures.Groups.FirstOrDefault(g => g.Key == key)?.Followed ?? [];

    private static OwnerListRow Row(OwnerReport report, FollowedRepair followed, Knowledge knowledge)
    {
        var repair = followed.Case;
        var back = followed.Return is { } order ? string.Create(CultureInfo.InvariantCulture, $" after {followed.Days} {(followed.Days == 1 ? "day" : "days")}, about {report.Distances.Say(followed.Kilometres)}") : "";
        return new(
            repair.Number, repair.HandedOverOn!.Value, repair.Technician, string.Join(", ", repair.Repaired.Select(r => $"{OwnerWords.Group(Grouping.Diagnosis, r.Cause, knowledge)}, {r.At}")),
            OwnerWords.Of(followed.Standing) + back, followed.Return?.Number);
    }

    private static OwnerListRow Row(OpenOrder order) =>
        new(order.Number, order.WrittenUpOn, "", Enum.TryParse<OrderStage>(order.Stage, out var stage) ? StageWords.Of(stage) : order.Stage, "", null);
}
