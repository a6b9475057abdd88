using System.Collections.Immutable;
using System.Numerics;

namespace ShopDiag.Diagnosis.Decisions;

/// <summary>
/// The best order where actions share strip-downs (take the intake off once for three plugs). p/C is not optimal there (Ottosen and Jensen 2010 on cost clusters), so
/// the least cost is worked out exactly over every set of actions done: 2^n sets, for up to <see cref="MostActions"/> actions.
/// </summary>
public static class SharedStripDown
{
    /// <summary>More actions than this are refused: the work doubles with each.</summary>
    public const int MostActions = 16;

    /// <summary>
    /// The order with the least <see cref="RepairOrder.ExpectedCost"/> of all. Throws <see cref="ArgumentException"/> for more than <see cref="MostActions"/> actions, or
    /// probabilities that add up to more than 1.
    /// </summary>
    public static ImmutableArray<RepairAction> BestOrder(IEnumerable<RepairAction> actions)
    {
        ArgumentNullException.ThrowIfNull(actions);
        var all = actions.ToArray();
        if (all.Length > MostActions)
        {
            throw new ArgumentException($"{all.Length} actions; at most {MostActions} can be worked out exactly.", nameof(actions));
        }

        DecisionChecks.AtMostOne(all.Select(a => a.Probability), nameof(actions));
        return Follow(all, BestNext(all));
    }

    // From the full set down: what is best to do next once the actions of a set are done.
    private static int[] BestNext(RepairAction[] all)
    {
        var least = new double[1 << all.Length];
        var next = new int[least.Length];
        for (var done = least.Length - 2; done >= 0; done--)
        {
            least[done] = double.PositiveInfinity;
            var (left, off) = After(all, done);
            for (var i = 0; i < all.Length; i++)
            {
                if ((done & (1 << i)) != 0)
                {
                    continue;
                }

                var cost = (left * (all[i].Cost + all[i].Behind.Where(s => !off.Contains(s.Id)).DistinctBy(s => s.Id).Sum(s => s.Cost))) + least[done | (1 << i)];
                (least[done], next[done]) = cost < least[done] ? (cost, i) : (least[done], next[done]);
            }
        }

        return next;
    }

    private static (double Left, HashSet<string> Off) After(RepairAction[] all, int done)
    {
        var (left, off) = (1.0, new HashSet<string>(StringComparer.Ordinal));
        for (var set = done; set != 0; set &= set - 1)
        {
            var action = all[BitOperations.TrailingZeroCount(set)];
            left -= action.Probability;
            off.UnionWith(action.Behind.Select(s => s.Id));
        }

        return (Math.Max(0, left), off);
    }

    private static ImmutableArray<RepairAction> Follow(RepairAction[] all, int[] next)
    {
        var order = ImmutableArray.CreateBuilder<RepairAction>(all.Length);
        for (var done = 0; done < next.Length - 1; done |= 1 << next[done])
        {
            order.Add(all[next[done]]);
        }

        return order.MoveToImmutable();
    }
}
