using ShopDiag.Comebacks.Repairs;

namespace ShopDiag.Comebacks.Figures;

/// <summary>Which repairs belong to which groups: groups by number in order of key, repairs by their place among all.</summary>
internal sealed class Memberships
{
    private readonly int[] _start;
    private readonly int[] _group;

    private Memberships(string[] keys, int[] start, int[] group)
    {
        (Keys, _start, _group, Sizes) = (keys, start, group, new int[keys.Length]);
        foreach (var g in group)
        {
            Sizes[g]++;
        }
    }

    /// <summary>The groups' keys.</summary>
    public string[] Keys { get; }

    /// <summary>How many repairs each group holds.</summary>
    public int[] Sizes { get; }

    /// <summary>True when no repair is in two groups.</summary>
    public bool AreApart => Enumerable.Range(0, _start.Length - 1).All(i => _start[i + 1] - _start[i] <= 1);

    /// <summary>True when every repair is in a group.</summary>
    public bool HoldAll => Enumerable.Range(0, _start.Length - 1).All(i => _start[i + 1] > _start[i]);

    /// <summary>The groups of a repair.</summary>
    public ReadOnlySpan<int> Of(int repair) => _group.AsSpan(_start[repair]..(_start[repair + 1]));

    /// <summary>All that are in a group, each once, as one group.</summary>
    public Memberships AsOne()
    {
        var start = new int[_start.Length];
        for (var i = 0; i + 1 < start.Length; i++)
        {
            start[i + 1] = start[i] + (Of(i).IsEmpty ? 0 : 1);
        }

        return new([""], start, new int[start[^1]]);
    }

    /// <summary>A number of repairs as one group.</summary>
    public static Memberships AllOf(int repairs) => new([""], [.. Enumerable.Range(0, repairs + 1)], new int[repairs]);

    public static Memberships By(Grouping grouping, IReadOnlyList<FollowedRepair> all)
    {
        // Names are typed: of two that differ in capitals only, one group is made, shown as the first in order of spelling.
        var numbers = new Dictionary<string, int>(StringComparer.OrdinalIgnoreCase);
        var spelled = new List<string>();
        var (start, group) = (new int[all.Count + 1], new List<int>(all.Count));
        var keys = new List<string>();
        for (var i = 0; i < all.Count; i++)
        {
            keys.Clear();
            AddKeys(keys, all[i].Case, grouping);
            foreach (var key in keys)
            {
                var number = NumberOf(key, numbers, spelled);
                if (group.IndexOf(number, start[i]) < 0)
                {
                    group.Add(number);
                }
            }

            start[i + 1] = group.Count;
        }

        var order = Enumerable.Range(0, spelled.Count).OrderBy(n => spelled[n], StringComparer.Ordinal).ToArray();
        var place = new int[order.Length];
        for (var i = 0; i < order.Length; i++)
        {
            place[order[i]] = i;
        }

        return new([.. order.Select(n => spelled[n])], start, [.. group.Select(n => place[n])]);
    }

    private static int NumberOf(string key, Dictionary<string, int> numbers, List<string> spelled)
    {
        if (!numbers.TryGetValue(key, out var number))
        {
            numbers[key] = number = spelled.Count;
            spelled.Add(key);
        }
        else if (string.CompareOrdinal(key, spelled[number]) < 0)
        {
            spelled[number] = key;
        }

        return number;
    }

    private static void AddKeys(List<string> keys, RepairCase repair, Grouping grouping)
    {
        switch (grouping)
        {
            case Grouping.Diagnosis:
                keys.AddRange(repair.Causes);
                break;
            case Grouping.PartMaker:
                keys.AddRange(repair.Parts.Select(p => p.Maker.Trim()));
                break;
            case Grouping.Vendor:
                keys.AddRange(repair.Parts.Select(p => p.Vendor.Trim()));
                break;
            default:
                keys.Add(KeyOf(repair, grouping));
                break;
        }
    }

    private static string KeyOf(RepairCase repair, Grouping grouping) => grouping switch
    {
        Grouping.All => "",
        Grouping.Technician => repair.Technician.Trim(),
        Grouping.EngineFamily => repair.EngineFamily,
        Grouping.Proof => Said(repair.ProofGiven, "given"),
        Grouping.RepairCheck => Said(repair.RepairChecked, "done"),
        _ => throw new ArgumentOutOfRangeException(nameof(grouping), grouping, "Unknown grouping."),
    };

    private static string Said(bool? value, string yes) => value switch
    {
        true => yes,
        false => "skipped",
        null => "",
    };
}
