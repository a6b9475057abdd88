using ShopDiag.Diagnosis;
using ShopDiag.Diagnosis.BenchTests;
using ShopDiag.Diagnosis.Engines;

namespace ShopDiag.VirtualCars.Play;

/// <summary>
/// The minutes on the bench, kept the same way for every policy: the test's own first and further minutes, access to a bank once while it stays open,
/// each plug out once, each valve cover once. Kept apart from the bookkeeping of the program that is measured.
/// </summary>
internal sealed class BenchClock(Engine engine, Knowledge knowledge)
{
    private readonly HashSet<string> _begun = [];
    private readonly HashSet<int> _open = [];
    private readonly HashSet<int> _coversOff = [];
    private readonly HashSet<int> _plugsOut = [];

    /// <summary>Minutes so far.</summary>
    public double Minutes { get; private set; }

    /// <summary>Counts readings of a test at some places, and gives their minutes.</summary>
    public double Take(BenchTest test, IReadOnlyCollection<Place> places)
    {
        var minutes = 0.0;
        foreach (var place in places)
        {
            minutes += Access(test, place);
            // A cylinder's test over a bank or the whole engine takes each cylinder's time.
            var parts = test.Scope == TestScope.Cylinder ? engine.CylindersAt(place).Count() : 1;
            minutes += (_begun.Add(test.Id) ? test.FirstMinutesOn(engine) : test.EachMinutesOn(engine)) + ((parts - 1) * test.EachMinutesOn(engine));
        }

        Minutes += minutes;
        return minutes;
    }

    /// <summary>Counts work other than a test.</summary>
    public void Add(double minutes) => Minutes += minutes;

    /// <summary>The engine has been closed up again.</summary>
    public void CloseUp()
    {
        _begun.Clear();
        _open.Clear();
        _coversOff.Clear();
        _plugsOut.Clear();
    }

    private double Access(BenchTest test, Place place)
    {
        if (test.Access == Diagnosis.BenchTests.Access.None)
        {
            return 0;
        }

        var cylinders = engine.CylindersAt(place).ToArray();
        var banks = cylinders.Select(engine.BankOf).Distinct().ToArray();
        var minutes = banks.Where(_open.Add).Sum(engine.AccessMinutes);
        return test.Access switch
        {
            Diagnosis.BenchTests.Access.PlugsOut => minutes + (cylinders.Count(_plugsOut.Add) * Limit("plug-out-min")),
            Diagnosis.BenchTests.Access.ValveCover => minutes + (banks.Count(_coversOff.Add) * Limit("valve-cover-min")),
            _ => minutes,
        };
    }

    private double Limit(string id) => engine.Spec.Limits.GetValueOrDefault(id, knowledge.Limits[id].Default);
}
