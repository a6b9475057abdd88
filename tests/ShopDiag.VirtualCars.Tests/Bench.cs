using ShopDiag.Diagnosis;
using ShopDiag.Diagnosis.BenchTests;
using ShopDiag.Diagnosis.Engines;
using ShopDiag.Diagnosis.Workups;
using ShopDiag.VirtualCars.Cars;
using ShopDiag.VirtualCars.Cars.Physics;

namespace ShopDiag.VirtualCars.Tests;

/// <summary>Short ways to cars and readings.</summary>
internal static class Bench
{
    public static Engine Engine(string name) => BenchEngines.All.First(e => e.Name == name).Engine;

    /// <summary>Cars with a fault of one cause, from seeds 0, 1, 2 ... that make one.</summary>
    public static IEnumerable<PhysicsCar> With(string cause, string engine = "I4-coil-on-plug", ReaderError error = ReaderError.Careful) =>
        Enumerable.Range(0, 10000).Select(seed => PhysicsCarMaker.With(Engine(engine), cause, error, seed)).OfType<PhysicsCar>();

    /// <summary>The finding of one test read at all its places (and what it needs before it), at one of them.</summary>
    public static Finding? Read(IVirtualCar car, string test, Place at, string? aspect = null)
    {
        var known = Knowledge.Shipped.Test(test)!;
        var first = known.Needs.Select(n => Knowledge.Shipped.Aspect(n.Test)!.Value.Test);
        var readings = first.Append(known).SelectMany(t => t.PlacesOn(car.Engine).Select(p => car.Take(t, p, Stage.Before))).OfType<Reading>();
        var workup = new Workup { Engine = car.Engine, Readings = [.. readings] };
        return Diagnostician.Assess(workup, Knowledge.Shipped).Findings.FirstOrDefault(f => f.Aspect == (aspect ?? test) && f.At == at);
    }

    /// <summary>Share of cars whose reading at the fault's place comes to one of the outcomes.</summary>
    public static double Share(IEnumerable<PhysicsCar> cars, string test, params string[] outcomes) =>
        cars.Average(c => Read(c, test, c.Faults[0].At) is { Outcome: { } o } && outcomes.Contains(o) ? 1.0 : 0);
}
