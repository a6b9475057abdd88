using ShopDiag.Diagnosis.Workups;

namespace ShopDiag.Diagnosis.Evidence;

/// <summary>A group that was read at one place, with the hypotheses that speak of it there.</summary>
internal sealed class SpokenGroup
{
    private readonly SeenGroup _group;
    private readonly Weighing _weighing;
    private readonly int[] _speaking;

    // For each hypothesis one more than the number of its entry, 0 where it does not speak: hypotheses that say the same share an entry.
    private readonly int[] _entryOf;
    private readonly List<Speaker> _entries = [];
    private readonly Effect[]?[] _effects;

    /// <summary>Lays it out.</summary>
    /// <param name="group">What was read.</param>
    /// <param name="weighing">What it says.</param>
    /// <param name="speakers">For each hypothesis what it makes the group show, or null.</param>
    public SpokenGroup(SeenGroup group, Weighing weighing, Speaker?[] speakers)
    {
        (_group, _weighing, _entryOf) = (group, weighing, new int[speakers.Length]);
        var (numbers, speaking) = (new int[group.Model.Speakers], new List<int>());
        for (var h = 0; h < speakers.Length; h++)
        {
            if (speakers[h] is { } speaker)
            {
                if (numbers[speaker.Number] == 0)
                {
                    _entries.Add(speaker);
                    numbers[speaker.Number] = _entries.Count;
                }

                speaking.Add(h);
                _entryOf[h] = numbers[speaker.Number];
            }
        }

        (_speaking, _effects) = ([.. speaking], new Effect[]?[_entries.Count]);
    }

    /// <summary>Adds what it says for each hypothesis alone, in bits.</summary>
    public void AddTo(double[] bits)
    {
        foreach (var h in _speaking)
        {
            bits[h] += _weighing.Bits(_entries[_entryOf[h] - 1]);
        }
    }

    /// <summary>Adds what it says beyond both alone for each pair of hypotheses, in bits.</summary>
    /// <param name="pairs">A square of the pairs, row by row; the upper half is filled.</param>
    public void AddPairs(Span<double> pairs)
    {
        var numbers = Array.ConvertAll(_speaking, h => _entries[_entryOf[h] - 1].Number);
        for (var i = 0; i < _speaking.Length; i++)
        {
            var excess = _weighing.Excess(_entries[_entryOf[_speaking[i]] - 1], _entries);
            var others = pairs.Slice(_speaking[i] * _entryOf.Length, _entryOf.Length);
            for (var j = i + 1; j < numbers.Length; j++)
            {
                others[_speaking[j]] += excess[numbers[j]];
            }
        }
    }

    /// <summary>What each of its findings does to a hypothesis.</summary>
    public Effect[] Effects(int hypothesis) => _entryOf[hypothesis] switch
    {
        0 => [],
        var entry => _effects[entry - 1] ??= [.. Breakdown.Of(_group, _weighing, _entries[entry - 1])],
    };
}
