using System.Collections.Immutable;
using System.Globalization;
using System.Text;

namespace ShopDiag.VirtualCars.SmallWorlds;

/// <summary>The program's policy on small worlds beside the exact optimum and the fixed order of a checklist.</summary>
public static class SmallWorldReport
{
    /// <summary>Plays every world through.</summary>
    public static ImmutableArray<WorldFigures> Figures() => [.. Worlds.All.Select(w => new WorldPlay(w).Figures)];

    /// <summary>The table, as markdown text.</summary>
    public static string Markdown()
    {
        var text = new StringBuilder();
        text.AppendLine("| world | states | optimum, min | program, min | ratio | checklist, min | ratio | right, % (optimum; program) | wrong, % (optimum; program) |");
        text.AppendLine("| --- | ---: | ---: | ---: | ---: | ---: | ---: | ---: | ---: |");
        foreach (var f in Figures())
        {
            text.AppendLine(string.Create(CultureInfo.InvariantCulture,
                $"| {f.World} | {f.States} | {f.Optimum:0.00} | {f.Program:0.00} | {f.Ratio:0.000} | {f.Checklist:0.00} | {f.Checklist / f.Optimum:0.000} | {f.OptimumRight:0.0%}; {f.ProgramRight:0.0%} | {f.OptimumWrong:0.0%}; {f.ProgramWrong:0.0%} |").Replace("%", "", StringComparison.Ordinal));
        }

        return text.ToString();
    }

    /// <summary>Where the program's choice costs more than the best one, dearest first, as markdown text.</summary>
    public static string Differences()
    {
        var text = new StringBuilder();
        foreach (var play in Worlds.All.Select(w => new WorldPlay(w)))
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
