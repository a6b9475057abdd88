using System.Collections.Immutable;
using ShopDiag.Diagnosis.Engines;
using ShopDiag.Diagnosis.Statistics;
using ShopDiag.Diagnosis.Workups;

namespace ShopDiag.Diagnosis.BenchTests.InjectorResistance;

/// <summary>Judges the windings of one engine against the limits and each other.</summary>
internal sealed class WindingJudge
{
    private const string Open = "injector-open-ohm";
    private const string Short = "injector-short-ohm";
    private const string Least = "injector-min-ohm";
    private const string Most = "injector-max-ohm";
    private const string Spread = "injector-spread-ohm";

    private readonly EvaluationInput _input;
    private readonly ImmutableArray<Winding> _whole;
    private readonly ImmutableHashSet<Place> _odd;
    private readonly double _spread;

    public WindingJudge(EvaluationInput input, ImmutableArray<Winding> windings)
    {
        _input = input;
        _whole = [.. windings.Where(w => w.Ohm < input.Limits[Open] && w.Ohm >= input.Limits[Short])];
        _spread = _whole.IsEmpty ? 0 : _whole.Max(w => w.Ohm) - _whole.Min(w => w.Ohm);
        _odd = FarthestFromAverage([.. _whole], input.Limits[Spread]);
    }

    private double LeastOhm => _input.Limits[Least];

    private double MostOhm => _input.Limits[Most];

    public Finding Judge(Winding w)
    {
        var (outcome, rule, limit) = Rule(w.Ohm, w.At);
        if (Rule(w.Lowest, w.At).Outcome != Rule(w.Highest, w.At).Outcome)
        {
            return _input.Finding(w.At, null, $"The trials lie between {Words.Ohm(w.Lowest)} and {Words.Ohm(w.Highest)}, on both sides of a limit: clean the pins and take it again, moving the lead.", w.Ohm)
                with { TrialsDisagree = true };
        }

        return _input.Finding(w.At, outcome, $"{w.InWords()}: {rule}.", w.Ohm) with { ByDefaultLimit = outcome is not null && !_input.Limits.IsOwn(limit) };
    }

    private (string? Outcome, string Rule, string Limit) Rule(double ohm, Place at)
    {
        if (ohm >= _input.Limits[Open])
        {
            return ("open", $"from {Words.Ohm(_input.Limits[Open])} the winding is open", Open);
        }

        if (ohm < _input.Limits[Short])
        {
            return ("shorted", $"below {Words.Ohm(_input.Limits[Short])} the winding is shorted", Short);
        }

        if (_odd.Contains(at))
        {
            return ("out", $"the injectors differ by {Words.Ohm(_spread)}, more than {Words.Ohm(_input.Limits[Spread])} ({_input.Whose(Spread)}), and this one is farthest from the average", Spread);
        }

        var limit = ohm < LeastOhm ? Least : Most;
        var range = $"{Words.Ohm(LeastOhm)} to {Words.Ohm(MostOhm)} ({_input.Whose(limit)})";
        if (ohm >= LeastOhm && ohm <= MostOhm)
        {
            return ("within", $"between {range}", limit);
        }

        return _input.Limits.IsOwn(limit) ? ("out", $"outside {range}", limit) : OutsideGeneral(ohm, at, limit, range);
    }

    /// <summary>
    /// Outside a range that is not this engine's own: GM's figures are for its port injectors, other makes have 12 to 16 ohm or
    /// as little as 1. The other injectors show which range is right.
    /// </summary>
    private (string? Outcome, string Rule, string Limit) OutsideGeneral(double ohm, Place at, string limit, string range)
    {
        double[] others = [.. _whole.Where(w => w.At != at).Select(w => w.Ohm)];
        if (others.Length >= 2 && Outside(Robust.Median(others), limit))
        {
            return ("within", $"outside {range}, but like the other injectors ({Words.Ohm(Robust.Median(others))}), so of another make; they differ by no more than {Words.Ohm(_input.Limits[Spread])}", Spread);
        }

        return others.Length < 2 && _input.Engine.Injection == Injection.Direct
            ? (null, $"outside {range}, which is for port injectors: measure the others to compare, or enter the maker's figures", limit)
            : ("out", $"outside {range}", limit);
    }

    private bool Outside(double ohm, string limit) => limit == Least ? ohm < LeastOhm : ohm > MostOhm;

    /// <summary>
    /// While highest and lowest differ by more than the limit, the one farthest from the average is set aside (GM, Buick 2004
    /// Century). Two alone cannot say which of them is wrong.
    /// </summary>
    private static ImmutableHashSet<Place> FarthestFromAverage(List<Winding> left, double spread)
    {
        var odd = ImmutableHashSet.CreateBuilder<Place>();
        while (left.Count >= 3 && left.Max(w => w.Ohm) - left.Min(w => w.Ohm) > spread)
        {
            var average = left.Select(w => w.Ohm).Order().Average();
            var farthest = left.Max(w => Math.Abs(w.Ohm - average));
            var set = left.Where(w => Math.Abs(w.Ohm - average) == farthest).ToList();
            odd.UnionWith(set.Select(w => w.At));
            left.RemoveAll(set.Contains);
        }

        return odd.ToImmutable();
    }
}
