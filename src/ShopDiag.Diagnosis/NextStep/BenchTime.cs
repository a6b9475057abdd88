using System.Numerics;
using ShopDiag.Diagnosis.BenchTests;
using ShopDiag.Diagnosis.Engines;
using ShopDiag.Diagnosis.Limits;

namespace ShopDiag.Diagnosis.NextStep;

/// <summary>Bench minutes of a test from where the engine stands: what has been taken off stays off and is not counted again.</summary>
internal sealed class BenchTime
{
    private readonly Engine _engine;
    private readonly double _plugMinutes;
    private readonly double _coverMinutes;
    private readonly double[] _accessMinutes;
    private readonly Dictionary<string, int> _numbers;
    private readonly Dictionary<Place, (ulong Cylinders, ulong Banks)> _masks = [];

    public BenchTime(Engine engine, Knowledge knowledge)
    {
        _engine = engine;
        var limits = new LimitSet(knowledge.Limits, engine.Spec.Limits);
        (_plugMinutes, _coverMinutes) = (limits["plug-out-min"], limits["valve-cover-min"]);
        _accessMinutes = [0, .. Enumerable.Range(1, engine.Banks.Length).Select(engine.AccessMinutes)];
        _numbers = knowledge.Tests.Select((t, i) => (t.Id, Number: i)).ToDictionary(p => p.Id, p => p.Number, StringComparer.Ordinal);
    }

    /// <summary>How the engine stands after the readings.</summary>
    public Opened After(IEnumerable<(BenchTest Test, Place At)> taken) =>
        taken.Aggregate(default(Opened), (opened, t) => After(opened, t.Test, [t.At]));

    /// <summary>How the engine stands after one more test at the places.</summary>
    public Opened After(Opened opened, BenchTest test, IReadOnlyCollection<Place> places) => After(opened, Of(test, places));

    /// <summary>How the engine stands after some work.</summary>
    public static Opened After(Opened opened, in BenchWork work) => new(
        opened.Begun | work.Test,
        work.Access == Access.None ? opened.Banks : opened.Banks | work.Banks,
        work.Access == Access.PlugsOut ? opened.Plugs | work.Cylinders : opened.Plugs,
        work.Access == Access.ValveCover ? opened.Covers | work.Banks : opened.Covers);

    /// <summary>Minutes for one reading at each of the places.</summary>
    public double Minutes(Opened opened, BenchTest test, IReadOnlyCollection<Place> places) => Minutes(opened, Of(test, places));

    /// <summary>Minutes for some work.</summary>
    public double Minutes(Opened opened, in BenchWork work)
    {
        var minutes = ((opened.Begun & work.Test) != 0 ? work.Each : work.First) + work.Further;
        if (work.Access == Access.None)
        {
            return minutes;
        }

        for (var closed = work.Banks & ~opened.Banks; closed != 0; closed &= closed - 1)
        {
            minutes += _accessMinutes[BitOperations.TrailingZeroCount(closed)];
        }

        return work.Access switch
        {
            Access.PlugsOut => minutes + (_plugMinutes * BitOperations.PopCount(work.Cylinders & ~opened.Plugs)),
            Access.ValveCover => minutes + (_coverMinutes * BitOperations.PopCount(work.Banks & ~opened.Covers)),
            _ => minutes,
        };
    }

    /// <summary>The work of one reading at each of the places.</summary>
    public BenchWork Of(BenchTest test, IReadOnlyCollection<Place> places)
    {
        var (cylinders, banks) = Masks(places);
        var readings = test.Scope == TestScope.Cylinder ? BitOperations.PopCount(cylinders) : places.Count;
        var (first, each) = (test.FirstMinutesOn(_engine), test.EachMinutesOn(_engine));
        return new BenchWork(1UL << _numbers[test.Id], first, each, Math.Max(0, readings - 1) * each, test.Access, cylinders, banks);
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

/// <summary>Some bench work, ready to be counted.</summary>
/// <param name="Test">The test, as one bit.</param>
/// <param name="First">Minutes of its first reading.</param>
/// <param name="Each">Minutes of a first reading where the test has been begun before.</param>
/// <param name="Further">Minutes of the readings after the first.</param>
/// <param name="Access">What must be off.</param>
/// <param name="Cylinders">The cylinders, as bits.</param>
/// <param name="Banks">The banks, as bits.</param>
internal readonly record struct BenchWork(ulong Test, double First, double Each, double Further, Access Access, ulong Cylinders, ulong Banks);
