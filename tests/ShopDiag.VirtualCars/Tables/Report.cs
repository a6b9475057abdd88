using System.Collections.Immutable;
using System.Globalization;
using System.Text;
using ShopDiag.VirtualCars.Play;

namespace ShopDiag.VirtualCars.Tables;

/// <summary>The tables of one run, in Markdown.</summary>
internal sealed class Report(Plan plan, string maker, ImmutableDictionary<string, ImmutableArray<Result>> results, IReadOnlyList<string> policies)
{
    private readonly StringBuilder _text = new();

    /// <summary>The whole text.</summary>
    public string Write()
    {
        Line($"## {plan.Cars} cars of maker {maker}, {(plan.Faults == 1 ? "one fault each" : "two faults each")}, {plan.Error.ToString().ToLowerInvariant()} reader, seed {plan.Seed}");
        Overall();
        ByGroup("cause", r => r.Causes[0], plan.Faults == 1);
        ByGroup("engine", r => r.Engine, true);
        for (var moment = 0; moment < Moments.Length; moment++)
        {
            Calibrated(Moments[moment], [.. results[policies[0]].Where(r => r.Moments.Length > moment).SelectMany(r => r.Moments[moment])]);
        }

        Failures();
        return _text.ToString();
    }

    // What it is held against: the second policy, or itself when it runs alone.
    private string Beside => policies[Math.Min(1, policies.Count - 1)];

    private static readonly string[] Moments = ["after codes, counts and balance", "midway", "whenever a repair was decided on", "at the end", "at every step"];

    private void Overall()
    {
        Header("policy", "right %", "wrong %", "of these mended all the same %", "unresolved %", "faults found %", "minutes mean", "median", "steps", "needless parts a car");
        foreach (var policy in policies)
        {
            Row(policy, Cells(results[policy], withFound: true));
        }

        var (own, list) = (results[policies[0]], results[Beside]);
        Line("");
        Line($"Minutes of {policies[0]} over those of the {Beside}: {Number(own.Average(r => r.Minutes) / list.Average(r => r.Minutes), 2)}.");
    }

    private void ByGroup(string name, Func<Result, string> of, bool wanted)
    {
        if (!wanted)
        {
            return;
        }

        Line("");
        Header(name, "cars", "right %", "wrong %", "mended %", "unresolved %", "minutes mean", "median", "steps", "needless", "checklist right %", "checklist minutes");
        var list = results[Beside].ToLookup(of);
        foreach (var group in results[policies[0]].GroupBy(of).OrderByDescending(g => g.Count()).ThenBy(g => g.Key, StringComparer.Ordinal))
        {
            Row(group.Key, [Number(group.Count(), 0), .. Cells([.. group], withFound: false), Share(list[group.Key], r => r.Ending == Ending.Right), Number(list[group.Key].Average(r => r.Minutes), 0)]);
        }
    }

    private static string[] Cells(IReadOnlyCollection<Result> all, bool withFound)
    {
        var found = (double)all.Sum(r => r.Found) / Math.Max(1, all.Sum(r => r.Causes.Count(c => c != Truth.NotAMisfire)));
        return
        [
            Share(all, r => r.Ending == Ending.Right), Share(all, r => r.Ending == Ending.Wrong), Share(all, r => r.Ending == Ending.Wrong && r.MendedUnderAnotherName),
            Share(all, r => r.Ending == Ending.Unresolved), .. withFound ? [Number(100 * found, 1)] : Array.Empty<string>(),
            Number(all.Average(r => r.Minutes), 1), Number(Median(all.Select(r => r.Minutes)), 1), Number(all.Average(r => r.Steps), 1), Number(all.Average(r => r.NeedlessParts), 2),
        ];
    }

    private void Calibrated(string moment, IReadOnlyCollection<Stated> stated)
    {
        var (all, first) = (Calibration.Of(stated), Calibration.Of([.. stated.Where(s => s.First)]));
        Line("");
        Line($"Probabilities {moment}: every cause from 1 % on: Brier {Number(all.Brier, 4)}, ECE {Number(all.Ece, 4)}; the likeliest alone: Brier {Number(first.Brier, 4)}, ECE {Number(first.Ece, 4)}.");
        Line("");
        Header("bin", "stated", "mean %", "true %", "likeliest", "mean %", "true %");
        for (var b = 0; b < all.Bins.Length; b++)
        {
            Row($"{b * 10}-{(b + 1) * 10}", [.. Bin(all.Bins[b]), .. Bin(first.Bins[b])]);
        }
    }

    private static string[] Bin((int Count, double Stated, double True) bin) =>
        bin.Count == 0 ? ["0", "", ""] : [Number(bin.Count, 0), Number(100 * bin.Stated, 1), Number(100 * bin.True, 1)];

    private void Failures()
    {
        Line("");
        Line("Cars that were not right (index, engine, hidden, said):");
        Line("");
        foreach (var result in results[policies[0]].Where(r => r.Ending != Ending.Right).Take(120))
        {
            Line($"- {result.Index}, {result.Engine}, {string.Join(" and ", result.Causes)}: {(result.Said.Length == 0 ? "nothing" : result.Said)} ({Number(result.Minutes, 0)} min)");
        }
    }

    private static string Share(IEnumerable<Result> all, Func<Result, bool> which) => Number(100 * all.Average(r => which(r) ? 1.0 : 0), 1);

    private static double Median(IEnumerable<double> values)
    {
        var sorted = values.Order().ToArray();
        return (sorted[(sorted.Length - 1) / 2] + sorted[sorted.Length / 2]) / 2;
    }

    private static string Number(double value, int decimals) =>
        Math.Round(value, decimals, MidpointRounding.AwayFromZero).ToString("F" + decimals.ToString(CultureInfo.InvariantCulture), CultureInfo.InvariantCulture);

    private void Header(params string[] cells)
    {
        Line("");
        Line($"| {string.Join(" | ", cells)} |");
        Line($"|{string.Concat(cells.Select((_, i) => i == 0 ? "---|" : "---:|"))}");
    }

    private void Row(string name, string[] cells) => Line($"| {name} | {string.Join(" | ", cells)} |");

    private void Line(string text) => _text.Append(text).Append('\n');
}
