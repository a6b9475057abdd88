using ShopDiag.Diagnosis.Workups;

namespace ShopDiag.Diagnosis.Evidence;

/// <summary>A group that was read at one place, with the hypotheses that speak of it there each for itself; those that all cylinders share stand in <see cref="SharedGroup"/>.</summary>
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
    /// <param name="read">What was read, and who speaks of it.</param>
    public SpokenGroup(ReadGroup read)
    {
        (_group, _weighing, _entryOf) = (read.Group, read.Weighing, new int[read.Speakers.Length]);
        var (numbers, speaking) = (new int[_group.Model.Speakers], new List<int>());
        for (var h = 0; h < _entryOf.Length; h++)
        {
            if (read.Speakers[h] is { Varies: false } speaker)
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

    /// <summary>Adds what it says for each hypothesis alone, in bits, awake and asleep.</summary>
    public void AddTo(double[] awake, double[] asleep)
    {
        foreach (var h in _speaking)
        {
            var speaker = _entries[_entryOf[h] - 1];
            var bits = _weighing.Bits(speaker);
            awake[h] += bits;
            asleep[h] += speaker.Sleeps ? _weighing.Bits(speaker.Less) : bits;
        }
    }

    /// <summary>Counts in what it says of each pair of hypotheses beyond both alone.</summary>
    public void AddPairs(PairSquare pairs)
    {
        var speakers = Array.ConvertAll(_speaking, h => _entries[_entryOf[h] - 1]);
        var sleeps = _entries.Exists(e => e.Sleeps);
        for (var i = 0; i < speakers.Length; i++)
        {
            var excess = _weighing.Excess(speakers[i], _entries);
            if (sleeps)
            {
                AddSleeping(pairs, i, speakers, excess);
                continue;
            }

            var others = pairs.Always.AsSpan(_speaking[i] * _entryOf.Length, _entryOf.Length);
            for (var j = i + 1; j < speakers.Length; j++)
            {
                others[_speaking[j]] *= excess[speakers[j].Number];
            }
        }
    }

    private void AddSleeping(PairSquare pairs, int i, Speaker[] speakers, ReadOnlySpan<double> awake)
    {
        var one = speakers[i];
        var asleep = one.Sleeps ? _weighing.Excess(one.Less, _entries) : awake;
        for (var j = i + 1; j < speakers.Length; j++)
        {
            var (other, at) = (speakers[j], (_speaking[i] * _entryOf.Length) + _speaking[j]);
            if (!one.Sleeps && !other.Sleeps)
            {
                pairs.Always[at] *= awake[other.Number];
                continue;
            }

            pairs.BothAwake[at] *= awake[other.Number];
            if (!other.Less.IsSilent)
            {
                pairs.FirstAwake[at] *= awake[other.Less.Number];
            }

            if (!one.Less.IsSilent)
            {
                pairs.SecondAwake[at] *= asleep[other.Number];
                pairs.BothAsleep[at] *= asleep[other.Less.Number];
            }
        }
    }

    /// <summary>What each of its findings does to a hypothesis.</summary>
    /// <param name="hypothesis">Its number.</param>
    /// <param name="awake">How far it counts as awake, 0 to 1.</param>
    public Effect[] Effects(int hypothesis, double awake)
    {
        if (_entryOf[hypothesis] == 0)
        {
            return [];
        }

        var entry = _entryOf[hypothesis] - 1;
        return _entries[entry].Sleeps
            ? [.. Breakdown.Of(_group, _weighing, _entries[entry], awake)]
            : _effects[entry] ??= [.. Breakdown.Of(_group, _weighing, _entries[entry], 1)];
    }
}
