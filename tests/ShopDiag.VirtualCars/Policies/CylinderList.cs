using ShopDiag.Diagnosis;
using ShopDiag.Diagnosis.Engines;

namespace ShopDiag.VirtualCars.Policies;

/// <summary>The checklist for one suspected cylinder, in the usual order of the trade: spark, plug, injector, air leak, compression, leak-down.</summary>
internal sealed class CylinderList(Looks look, int cylinder)
{
    private readonly List<(string Cause, Place At)> _suspicions = [];

    private Place Here => Place.Cylinder(cylinder);

    private Engine Engine => look.Engine;

    private Place Shared => Engine is { Ignition: Ignition.WasteSpark } e && e.Companion(cylinder) is { } other ? Place.Pair(cylinder, other) : Here;

    /// <summary>What his rules come to, or null.</summary>
    public (string Cause, Place At)? Find() =>
        Spark() ?? Plug() ?? Injector() ?? Air() ?? Sealing() ?? Leftover();

    private (string, Place)? Spark()
    {
        if (look.Confirmed("spark-output", cylinder, "weak", "none") is not ("weak" or "none"))
        {
            return Engine.Ignition != Ignition.WasteSpark && look.At("coil-swap", cylinder) == "follows" ? Coil() : null;
        }

        if (look.At("coil-feed", cylinder) is "none" or "low")
        {
            return ("coil-feed-lost", Shared);
        }

        if (look.Confirmed("coil-control", cylinder, "absent", "erratic") is "absent" or "erratic")
        {
            return ("coil-control-lost", Shared);
        }

        return Engine.Ignition switch
        {
            Ignition.CoilOnPlug => Coil(),
            Ignition.CoilNearPlug => look.At("coil-swap", cylinder) == "follows" ? Coil() : ("plug-wire-open", Here),
            Ignition.WasteSpark => look.At("spark-output", Engine.Companion(cylinder)!.Value) is "weak" or "none" ? ("shared-coil-failed", Shared) : ("plug-wire-open", Here),
            Ignition.Distributor => OthersWeak() ? ("distributor-cap-rotor", Place.Engine) : ("plug-wire-open", Here),
            _ => throw new InvalidOperationException($"Unknown ignition {Engine.Ignition}."),
        };
    }

    // Before a coil is bought the boot and plug that come off with it are looked at.
    private (string, Place) Coil() => look.At("plug-condition", cylinder) switch
    {
        "tracked" => ("coil-boot-leak", Here),
        "cracked" => ("plug-cracked", Here),
        _ => ("coil-failed", Here),
    };

    private bool OthersWeak() => Engine.Cylinders.Where(c => c != cylinder).Take(2).Any(c => look.At("spark-output", c) is "weak" or "none");

    private (string, Place)? Plug()
    {
        switch (look.At("plug-condition", cylinder))
        {
            case "cracked":
                return ("plug-cracked", Here);
            case "tracked":
                return ("coil-boot-leak", Here);
            case "gap-wide":
                return ("plug-worn", Here);
            case "worn" when look.At("plug-swap", cylinder) is "follows" or "gone":
                return ("plug-worn", Here);
            case "worn" when !look.Game.CanTake("plug-swap", Here):
                _suspicions.Add(("plug-worn", Here));
                return null;
            case "oil-fouled":
                _suspicions.Add(("plug-fouled", Here));
                return null;
            case "carbon-fouled":
                _suspicions.Add((Rich() ? "injector-leaking" : "plug-fouled", Here));
                return null;
            case "fuel-wet" when Rich():
                _suspicions.Add(("injector-leaking", Here));
                return null;
            default:
                return null;
        }
    }

    private bool Rich() => look.Outcome("fuel-trims", Place.Bank(Engine.BankOf(cylinder))) == "rich";

    private (string, Place)? Injector()
    {
        var sound = look.At("injector-sound", cylinder);
        if (sound is "silent" or "different" || look.Known("codes-injector", Here) == "coded")
        {
            if (look.At("injector-resistance", cylinder) is "open" or "shorted" or "out")
            {
                return ("injector-winding-failed", Here);
            }
        }

        if (sound is not null && look.Confirmed("injector-control", cylinder, "absent", "steady-on") is "absent" or "steady-on")
        {
            return ("injector-control-lost", Here);
        }

        return look.At("injector-drop", cylinder) switch
        {
            "low-delivery" => look.At("injector-resistance", cylinder) is "open" or "shorted" or "out" ? ("injector-winding-failed", Here) : ("injector-clogged", Here),
            "high-delivery" => ("injector-leaking", Here),
            null when sound == "different" => Suspect("injector-clogged"),
            _ => null,
        };
    }

    private (string, Place)? Suspect(string cause)
    {
        _suspicions.Add((cause, Here));
        return null;
    }

    private (string, Place)? Air() => look.Confirmed("intake-leak", cylinder, "leak") == "leak" ? ("intake-leak-runner", Here) : null;

    private (string, Place)? Sealing()
    {
        var dry = look.At("compression-dry", cylinder);
        var leak = look.At("leak-down", cylinder);
        switch (leak)
        {
            case "leaks-coolant":
                return ("head-gasket-coolant", Here);
            case "leaks-neighbour" when Neighbour() is { } other:
                return ("head-gasket-neighbours", Place.Pair(cylinder, other));
            case "leaks-exhaust":
                return Tight() ? ("valve-clearance-tight", Here) : ("exhaust-valve-leak", Here);
            case "leaks-intake":
                return Tight() ? ("valve-clearance-tight", Here) : ("intake-valve-leak", Here);
            case "leaks-crankcase" when dry is "low" or "dead":
                return look.At("borescope", cylinder) == "piston-damage" || look.At("compression-wet", cylinder) == "same" ? ("piston-damaged", Here) : ("rings-worn", Here);
            default:
                return Breathing(dry);
        }
    }

    private int? Neighbour() => Engine.Neighbours(cylinder)
        .OrderByDescending(n => look.Known("compression-dry", Place.Cylinder(n)) is "low" or "dead")
        .Select(n => (int?)n).FirstOrDefault();

    private bool Tight() => look.At("valve-clearance", cylinder) == "tight";

    // It seals, yet it does not pull: does it breathe?
    private (string, Place)? Breathing(string? dry)
    {
        if (look.OfEngine("combustion-gas-in-coolant") == "found" && look.At("plug-condition", cylinder) == "coolant-washed")
        {
            return ("head-gasket-coolant", Here);
        }

        if (dry is "low" or "dead" || look.At("compression-running", cylinder) is "low-idle" or "low-snap" or "high")
        {
            if (look.At("valve-lift", cylinder) is "lost" || (dry is "low" or "dead" && !look.Game.CanTake("valve-lift", Here)))
            {
                return ("valve-lift-lost", Here);
            }
        }

        return _suspicions.Count == 0 && look.At("borescope", cylinder) == "deposits" ? ("valve-deposits", Here) : null;
    }

    private (string, Place)? Leftover() => _suspicions.Count > 0 ? _suspicions[0] : null;
}
