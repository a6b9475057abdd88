using System.Collections.Immutable;
using ShopDiag.Diagnosis.Causes;
using ShopDiag.Diagnosis.Engines;
using ShopDiag.Diagnosis.Workups;

namespace ShopDiag.Diagnosis.Evidence;

/// <summary>
/// What the earlier repairs of a comeback do to a cause at a place: at most one thing for it and one against it, the strongest of each. Several parts fitted together, and the same part on two
/// orders, are no independent witnesses, so their effects are not heaped up.
/// </summary>
internal sealed class EarlierWork(Engine engine, Knowledge knowledge, ImmutableArray<EarlierRepair> repairs)
{
    /// <summary>The effects, the strongest first; empty for a cause that no repair bears on.</summary>
    public ImmutableArray<EarlierEffect> On(Cause cause, Place at)
    {
        if (repairs.IsEmpty)
        {
            return [];
        }

        EarlierEffect[] all = [.. repairs.SelectMany(r => Of(r, cause, at))];
        return [.. new[] { all.Where(e => e.Bits > 0).MaxBy(e => e.Bits), all.Where(e => e.Bits < 0).MinBy(e => e.Bits) }.OfType<EarlierEffect>().OrderByDescending(e => Math.Abs(e.Bits))];
    }

    /// <summary>What to look at first, a sentence for each kind of part that was fitted.</summary>
    public IEnumerable<string> LooksFirst() => repairs
        .SelectMany(r => r.Parts.Select(p => (r.Order, Part: p, Rule: knowledge.AfterRepair.For(p.Part))))
        .Where(p => p.Rule is not null)
        .DistinctBy(p => (p.Order, p.Rule))
        .Select(p => $"The trouble of {p.Order} is back: look at that work first ({p.Part.Part.ToLowerInvariant()}, {p.Part.At}). {p.Rule!.Look}");

    private IEnumerable<EarlierEffect> Of(EarlierRepair repair, Cause cause, Place at)
    {
        var named = false;
        foreach (var part in repair.Parts.Where(p => Touches(p.At, at)).DistinctBy(p => p.Part))
        {
            if (knowledge.AfterRepair.For(part.Part)?.Causes.FirstOrDefault(c => c.Cause == cause.Id) is { } rule)
            {
                named = true;
                yield return Effect(rule, repair, part.Part);
            }
            else if (part.At == at && SameRepair.MainPart(cause) == part.Part)
            {
                named = true;
                yield return Effect(knowledge.AfterRepair.NewPart, repair, part.Part);
            }
        }

        if (!named && repair.Causes.Any(done => done.At == at && knowledge.Cause(done.Cause) is { } known && SameRepair.Mends(known, cause)))
        {
            yield return Effect(knowledge.AfterRepair.Mended, repair, "");
        }
    }

    // A connector that was off at one cylinder bears on that cylinder, on pairs it is part of, and on what the whole bank or engine shares.
    private bool Touches(Place part, Place at) => engine.CylindersAt(part).Intersect(engine.CylindersAt(at)).Any();

    private static EarlierEffect Effect(AfterRepairCause rule, EarlierRepair repair, string part) => new(
        repair.Order, Math.Log2(rule.Times), rule.Because.Replace("{order}", repair.Order, StringComparison.Ordinal).Replace("{part}", part, StringComparison.Ordinal));
}
