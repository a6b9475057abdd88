using System.Numerics;
using ShopDiag.Diagnosis.BenchTests;
using ShopDiag.Diagnosis.Engines;
using ShopDiag.Diagnosis.Limits;

namespace ShopDiag.Diagnosis.NextStep;

/// <summary>Bench minutes of a test from where the engine stands: what has been taken off stays off and is not counted again.</summary>
internal sealed class BenchTime
{
    private readonly Engine _engine;
    private readonly LimitSet _limits;
    private readonly Dictionary<string, int> _numbers;
    private readonly Dictionary<Place, (ulong Cylinders, ulong Banks)> _masks = [];

    public BenchTime(Engine engine, Knowledge knowledge)
    {
        _engine = engine;
        _limits = new LimitSet(knowledge.Limits, engine.Spec.Limits);
        _numbers = knowledge.Tests.Select((t, i) => (t.Id, Number: i)).ToDictionary(p => p.Id, p => p.Number, StringComparer.Ordinal);
    }

    /// <summary>How the engine stands after the readings.</summary>
    public Opened After(IEnumerable<(BenchTest Test, Place At)> taken) =>
        taken.Aggregate(default(Opened), (opened, t) => After(opened, t.Test, [t.At]));

    /// <summary>How the engine stands after one more test at the places.</summary>
    public Opened After(Opened opened, BenchTest test, IEnumerable<Place> places)
    {
        var (cylinders, banks) = Masks(places);
        return new Opened(
            opened.Begun | (1UL << _numbers[test.Id]),
            test.Access == Access.None ? opened.Banks : opened.Banks | banks,
            test.Access == Access.PlugsOut ? opened.Plugs | cylinders : opened.Plugs,
            test.Access == Access.ValveCover ? opened.Covers | banks : opened.Covers);
    }

    /// <summary>Minutes for one reading at each of the places.</summary>
    public double Minutes(Opened opened, BenchTest test, IReadOnlyCollection<Place> places)
    {
        var (cylinders, banks) = Masks(places);
        var readings = test.Scope == TestScope.Cylinder ? BitOperations.PopCount(cylinders) : places.Count;
        var first = (opened.Begun & (1UL << _numbers[test.Id])) != 0 ? test.EachMinutes : test.FirstMinutes;
        var minutes = first + (Math.Max(0, readings - 1) * test.EachMinutes);
        if (test.Access == Access.None)
        {
            return minutes;
        }

        for (var bank = 1; bank <= _engine.Banks.Length; bank++)
        {
            minutes += (banks & ~opened.Banks & (1UL << bank)) != 0 ? _engine.AccessMinutes(bank) : 0;
        }

        return test.Access switch
        {
            Access.PlugsOut => minutes + (_limits["plug-out-min"] * BitOperations.PopCount(cylinders & ~opened.Plugs)),
            Access.ValveCover => minutes + (_limits["valve-cover-min"] * BitOperations.PopCount(banks & ~opened.Covers)),
            _ => minutes,
        };
    }

    private (ulong Cylinders, ulong Banks) Masks(IEnumerable<Place> places)
    {
        var (cylinders, banks) = (0UL, 0UL);
        foreach (var place in places)
        {
            if (!_masks.TryGetValue(place, out var masks))
            {
                foreach (var cylinder in _engine.CylindersAt(place))
                {
                    masks = (masks.Cylinders | (1UL << cylinder), masks.Banks | (1UL << _engine.BankOf(cylinder)));
                }

                _masks[place] = masks;
            }

            (cylinders, banks) = (cylinders | masks.Cylinders, banks | masks.Banks);
        }

        return (cylinders, banks);
    }
}
