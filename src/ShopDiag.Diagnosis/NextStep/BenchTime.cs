using ShopDiag.Diagnosis.BenchTests;
using ShopDiag.Diagnosis.Engines;
using ShopDiag.Diagnosis.Limits;

namespace ShopDiag.Diagnosis.NextStep;

/// <summary>Bench minutes of a test from where the engine stands now: what has been taken off stays off and is not counted again.</summary>
internal sealed class BenchTime
{
    private readonly Engine _engine;
    private readonly double _plugMinutes;
    private readonly double _coverMinutes;
    private readonly HashSet<string> _begun;
    private readonly HashSet<int> _openBanks;
    private readonly HashSet<int> _coversOff;
    private readonly HashSet<int> _plugsOut;

    public BenchTime(Engine engine, Knowledge knowledge, IEnumerable<Reading> readings)
    {
        _engine = engine;
        var limits = new LimitSet(knowledge.Limits, engine.Spec.Limits);
        (_plugMinutes, _coverMinutes) = (limits["plug-out-min"], limits["valve-cover-min"]);
        var taken = readings.Select(r => (Test: knowledge.Test(r.Test)!, r.At)).ToArray();
        _begun = [.. taken.Select(t => t.Test.Id)];
        _openBanks = [.. taken.Where(t => t.Test.Access != Access.None).SelectMany(t => Banks(t.At))];
        _coversOff = [.. taken.Where(t => t.Test.Access == Access.ValveCover).SelectMany(t => Banks(t.At))];
        _plugsOut = [.. taken.Where(t => t.Test.Access == Access.PlugsOut).SelectMany(t => engine.CylindersAt(t.At))];
    }

    /// <summary>Minutes for one reading at each of the places.</summary>
    public double Minutes(BenchTest test, IReadOnlyCollection<Place> places)
    {
        var first = _begun.Contains(test.Id) ? test.EachMinutes : test.FirstMinutes;
        var minutes = first + (Math.Max(0, places.Sum(p => Parts(test, p)) - 1) * test.EachMinutes);
        if (test.Access == Access.None)
        {
            return minutes;
        }

        minutes += places.SelectMany(Banks).Distinct().Where(b => !_openBanks.Contains(b)).Sum(_engine.AccessMinutes);
        return test.Access switch
        {
            Access.PlugsOut => minutes + (_plugMinutes * places.SelectMany(_engine.CylindersAt).Distinct().Count(c => !_plugsOut.Contains(c))),
            Access.ValveCover => minutes + (_coverMinutes * places.SelectMany(Banks).Distinct().Count(b => !_coversOff.Contains(b))),
            _ => minutes,
        };
    }

    // A cylinder's test taken on a whole bank or engine takes the time of all its cylinders.
    private int Parts(BenchTest test, Place place) => test.Scope == TestScope.Cylinder ? _engine.CylindersAt(place).Count() : 1;

    private IEnumerable<int> Banks(Place place) => _engine.CylindersAt(place).Select(_engine.BankOf).Distinct();
}
