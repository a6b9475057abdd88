using ShopDiag.Diagnosis;
using ShopDiag.Diagnosis.Engines;

namespace ShopDiag.VirtualCars.Cars.Garage;

/// <summary>Whether a repair mends a fault: the right work at the right place, or other work that renews the same part (common practice).</summary>
internal static class Mending
{
    /// <summary>True when this repair ends this fault.</summary>
    public static bool Mends(string cause, Place at, GarageFault fault, Engine engine) =>
        (fault.Kind.Cause == cause || fault.Kind.AlsoMendedBy.Contains(cause)) && Reaches(at, fault, engine);

    private static bool Reaches(Place at, GarageFault fault, Engine engine)
    {
        if (at == fault.At || fault.Kind.MendedAnywhere)
        {
            return true;
        }

        var worked = engine.CylindersAt(at).ToHashSet();
        var hurt = fault.Cylinders(engine).ToList();
        return hurt.All(worked.Contains)
            // One part serves both of a pair: renewed for one, it is renewed for the other.
            || (fault.At.Kind == PlaceKind.Pair && hurt.Exists(worked.Contains))
            || (fault.Kind.MendedOnBank && worked.Select(engine.BankOf).Intersect(hurt.Select(engine.BankOf)).Any());
    }
}
