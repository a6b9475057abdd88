using System.Collections.Immutable;
using ShopDiag.Comebacks.Statistics;

namespace ShopDiag.Comebacks.Figures;

/// <summary>How long each repair was watched, in order of that: sorted once, so that groups taken from it come in order without being sorted again.</summary>
/// <param name="Repairs">The repairs by their place among all.</param>
/// <param name="Watched">How long each of them was watched.</param>
internal sealed record WatchedInOrder(int[] Repairs, Observation[] Watched)
{
    public static WatchedInOrder Of(ImmutableArray<FollowedRepair> all, Func<FollowedRepair, Observation> watched)
    {
        var (times, repairs) = (new int[all.Length], new int[all.Length]);
        var unsorted = new Observation[all.Length];
        for (var i = 0; i < all.Length; i++)
        {
            unsorted[i] = watched(all[i]);
            (times[i], repairs[i]) = (unsorted[i].Time, i);
        }

        Array.Sort(times, repairs);
        return new(repairs, Array.ConvertAll(repairs, i => unsorted[i]));
    }

    /// <summary>Those that are in a group, each once.</summary>
    public Observation[] InAny(Memberships members)
    {
        var found = new List<Observation>(Watched.Length);
        for (var k = 0; k < Watched.Length; k++)
        {
            if (!members.Of(Repairs[k]).IsEmpty)
            {
                found.Add(Watched[k]);
            }
        }

        return [.. found];
    }

    /// <summary>Those of each group, each in order.</summary>
    public Observation[][] ByGroup(Memberships members)
    {
        var groups = Array.ConvertAll(members.Sizes, size => new Observation[size]);
        var filled = new int[groups.Length];
        for (var k = 0; k < Watched.Length; k++)
        {
            foreach (var g in members.Of(Repairs[k]))
            {
                groups[g][filled[g]++] = Watched[k];
            }
        }

        return groups;
    }
}
