using System.Collections.Immutable;
using ShopDiag.Diagnosis.BenchTests;
using ShopDiag.Diagnosis.Causes;
using ShopDiag.Diagnosis.Engines;

namespace ShopDiag.Diagnosis.Evidence;

/// <summary>
/// The rules of all causes, laid out for counting: aspects gathered into their groups, and for each cause, relation and kind of place what it makes a
/// group show. Made once for each way of making the spark, since rules may hold on some ignitions only.
/// </summary>
internal sealed class RuleTable
{
    private static readonly int Relations = Enum.GetValues<Relation>().Length;
    private static readonly int Kinds = Enum.GetValues<PlaceKind>().Length;
    private readonly Dictionary<string, (int Group, int Member)> _aspects = new(StringComparer.Ordinal);
    private readonly Speaker?[] _speakers;
    private readonly int _causes;

    public RuleTable(Knowledge knowledge, Ignition ignition)
    {
        _causes = knowledge.Causes.Length;
        Groups = [.. knowledge.Tests
            .SelectMany(t => t.Aspects.Select(a => (Test: t, Aspect: a)))
            .GroupBy(p => p.Aspect.Group ?? p.Aspect.Id, StringComparer.Ordinal)
            .Select(g => new GroupModel(g.Key, [.. g.Select(p => (p.Test, p.Aspect))], [.. g.Select(p => Lapses.Of(p.Test, p.Aspect, knowledge.Causes))]))];
        for (var g = 0; g < Groups.Length; g++)
        {
            for (var m = 0; m < Groups[g].Members.Length; m++)
            {
                _aspects[Groups[g].Members[m].Aspect.Id] = (g, m);
            }
        }

        _speakers = new Speaker?[Groups.Length * _causes * Relations * Kinds];
        for (var c = 0; c < _causes; c++)
        {
            Add(c, knowledge.Causes[c], ignition);
        }
    }

    /// <summary>The groups; an aspect that shares with no other is a group of its own.</summary>
    public ImmutableArray<GroupModel> Groups { get; }

    /// <summary>The group of an aspect and its number within the group.</summary>
    public (int Group, int Member) Of(string aspect) => _aspects[aspect];

    /// <summary>What a cause makes a group show at a place in some relation to its own; null where it is as on a sound engine.</summary>
    public Speaker? Speaker(int group, int cause, Relation where, PlaceKind at) => _speakers[Index(group, cause, where, at)];

    private int Index(int group, int cause, Relation where, PlaceKind at) =>
        (((((group * _causes) + cause) * Relations) + (int)where) * Kinds) + (int)at;

    private void Add(int index, Cause cause, Ignition ignition)
    {
        foreach (var rules in cause.Shows.Where(r => r.HoldsOn(ignition)).GroupBy(r => (Group: _aspects[r.Aspect].Group, r.Where)))
        {
            foreach (var kind in Enum.GetValues<PlaceKind>().Where(k => k != PlaceKind.Pair))
            {
                // The first rule that fits speaks: own rules stand before those of patterns.
                var first = rules.Where(r => r.At is null || r.At == kind).GroupBy(r => r.Aspect, StringComparer.Ordinal).Select(g => g.First()).ToArray();
                if (first.Length > 0)
                {
                    _speakers[Index(rules.Key.Group, index, rules.Key.Where, kind)] = Groups[rules.Key.Group].NewSpeaker(first, cause, kind);
                }
            }
        }
    }
}
