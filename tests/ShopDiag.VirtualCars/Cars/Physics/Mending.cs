using ShopDiag.Diagnosis;
using ShopDiag.Diagnosis.Engines;
using ShopDiag.VirtualCars.Cars.Physics.Faults;

namespace ShopDiag.VirtualCars.Cars.Physics;

/// <summary>Which repairs end which faults.</summary>
internal static class Mending
{
    // What a repair renews besides what it is named after.
    private static readonly Dictionary<string, string[]> Also = new(StringComparer.Ordinal)
    {
        // A wire traced to the computer ends at the driver; a driver is replaced after the wire was traced.
        ["coil-control-lost"] = ["control-module-driver"],
        ["injector-control-lost"] = ["control-module-driver"],
        // A new coil comes with its boot and a new plug, a new boot with a new plug.
        ["coil-failed"] = ["coil-boot-leak", "plug-worn", "plug-fouled", "plug-cracked"],
        ["coil-boot-leak"] = ["plug-worn", "plug-fouled", "plug-cracked"],
        ["oil-in-plug-well"] = ["coil-boot-leak", "plug-worn", "plug-fouled", "plug-cracked"],
        ["plug-wire-open"] = ["coil-boot-leak", "plug-worn", "plug-fouled", "plug-cracked"],
        ["plug-worn"] = ["plug-fouled", "plug-cracked"],
        ["plug-fouled"] = ["plug-worn", "plug-cracked"],
        ["plug-cracked"] = ["plug-worn", "plug-fouled"],
        ["shared-coil-failed"] = ["plug-worn", "plug-fouled", "plug-cracked"],
        ["injector-clogged"] = ["injector-leaking", "injector-winding-failed"],
        ["injector-leaking"] = ["injector-clogged", "injector-winding-failed"],
        ["injector-winding-failed"] = ["injector-clogged", "injector-leaking"],
        ["exhaust-valve-leak"] = ["intake-valve-leak", "head-gasket-coolant", "head-gasket-neighbours", "valve-clearance-tight", "valve-spring-weak"],
        ["intake-valve-leak"] = ["exhaust-valve-leak", "head-gasket-coolant", "head-gasket-neighbours", "valve-clearance-tight", "valve-spring-weak"],
        ["piston-damaged"] = ["rings-worn"],
        ["rings-worn"] = ["piston-damaged"],
    };

    /// <summary>True when the repair of a cause at a place ends a defect: the cause itself there, or one whose parts are renewed with it.</summary>
    public static bool Mends(string cause, Place at, Defect defect, Engine engine)
    {
        ArgumentNullException.ThrowIfNull(cause);
        var same = cause == defect.Kind.Cause || (Also.TryGetValue(cause, out var also) && also.Contains(defect.Kind.Cause));
        return same && Reaches(cause, at, defect.At, engine);
    }

    // A set of plugs is renewed on all cylinders; else the places must share a cylinder, or be the same.
    private static bool Reaches(string cause, Place at, Place hidden, Engine engine) =>
        cause == "plug-worn" || at == hidden || (hidden.Kind != PlaceKind.Engine && at.Kind != PlaceKind.Engine
            && engine.CylindersAt(hidden).All(engine.CylindersAt(at).Contains));
}
