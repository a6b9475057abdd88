using System.Collections.Immutable;
using System.Globalization;
using System.Text;

namespace ShopDiag.VirtualCars.SmallWorlds;

/// <summary>The program's policy on small worlds beside the exact optimum and the fixed order of a checklist.</summary>
public static class SmallWorldReport
{
    /// <summary>How many worlds are drawn by seed beside the chosen ones.</summary>
    public const int Drawn = 200;

    /// <summary>Plays every chosen world through.</summary>
    public static ImmutableArray<WorldFigures> Figures() => [.. Worlds.All.Select(w => new WorldPlay(w).Figures)];

    /// <summary>Plays the worlds of the seeds from 1 through.</summary>
    public static ImmutableArray<WorldFigures> DrawnFigures(int worlds = Drawn) => [.. Enumerable.Range(1, worlds).Select(s => new WorldPlay(DrawnWorlds.Draw(s)).Figures)];

    /// <summary>The table, and how the program does on the drawn worlds, as markdown text.</summary>
    /// <param name="drawn">How many worlds to draw.</param>
    public static string Markdown(int drawn = Drawn)
    {
        var text = new StringBuilder();
        text.AppendLine("| world | states | optimum, min | program, min | ratio | checklist, min | ratio | right, % (optimum; program) | wrong, % (optimum; program) |");
        text.AppendLine("| --- | ---: | ---: | ---: | ---: | ---: | ---: | ---: | ---: |");
        foreach (var f in Figures())
        {
            text.AppendLine(CultureInfo.InvariantCulture, $"| {f.World} | {f.States} | {f.Optimum:0.00} | {f.Program:0.00} | {f.Ratio:0.000} | {f.Checklist:0.00} | {f.Checklist / f.Optimum:0.000} | {100 * f.OptimumRight:0.0}; {100 * f.ProgramRight:0.0} | {100 * f.OptimumWrong:0.0}; {100 * f.ProgramWrong:0.0} |");
        }

        return text.AppendLine().AppendLine(OverAll(DrawnFigures(drawn))).ToString();
    }

    private static string OverAll(ImmutableArray<WorldFigures> drawn)
    {
        var (least, ratios) = (drawn.Sum(f => f.Optimum), drawn.Select(f => f.Ratio).Order().ToArray());
        return string.Create(CultureInfo.InvariantCulture, $"{drawn.Length} worlds drawn by seed: over all, the program needs {drawn.Sum(f => f.Program) / least:0.000} of the optimum's minutes, the checklist {drawn.Sum(f => f.Checklist) / least:0.000}. ")
            + string.Create(CultureInfo.InvariantCulture, $"Ratio of the program in the middle world {ratios[drawn.Length / 2]:0.000}, in the 95th of 100 {ratios[drawn.Length * 95 / 100]:0.000}, worst {ratios[^1]:0.000}; within 1.10 in {ratios.Count(r => r <= 1.10)}.");
    }

    /// <summary>Where the program's choice costs more than the best one, dearest first, in the chosen worlds and the worst of the drawn ones, as markdown text.</summary>
    public static string Differences()
    {
        var text = new StringBuilder();
        var worst = Enumerable.Range(1, Drawn).Select(s => new WorldPlay(DrawnWorlds.Draw(s))).OrderByDescending(p => p.Figures.Ratio).Take(8);
        foreach (var play in Worlds.All.Select(w => new WorldPlay(w)).Concat(worst))
        {
            play.Describe(text);
        }

        return text.ToString();
    }
}

/// <summary>What was reached in one world; minutes are expected bench minutes, the rest probabilities.</summary>
/// <param name="World">The world's name.</param>
/// <param name="States">States the optimum was worked out over.</param>
/// <param name="Optimum">Least expected minutes over all adaptive orders.</param>
/// <param name="Program">Expected minutes of the program's policy.</param>
/// <param name="Checklist">Expected minutes of the fixed order.</param>
/// <param name="OptimumRight">Chance that the optimal policy concludes on what is wrong.</param>
/// <param name="OptimumWrong">Chance that it concludes on something else.</param>
/// <param name="ProgramRight">The same of the program.</param>
/// <param name="ProgramWrong">The same of the program.</param>
public sealed record WorldFigures(
    string World, int States, double Optimum, double Program, double Checklist, double OptimumRight, double OptimumWrong, double ProgramRight, double ProgramWrong)
{
    /// <summary>The program's minutes as a multiple of the least.</summary>
    public double Ratio => Program / Optimum;
}
