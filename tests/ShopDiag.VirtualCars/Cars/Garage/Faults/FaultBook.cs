using System.Collections.Immutable;
using ShopDiag.Diagnosis.Engines;

namespace ShopDiag.VirtualCars.Cars.Garage.Faults;

/// <summary>Every kind of fault of this garage.</summary>
internal static class FaultBook
{
    /// <summary>The cause of a car whose engine is sound.</summary>
    public const string Sound = "not-a-misfire";

    /// <summary>Share of single-fault cars whose engine is sound. Made-up.</summary>
    public const double SoundWeight = 5;

    /// <summary>All kinds.</summary>
    public static ImmutableArray<FaultKind> All { get; } =
    [
        .. PlugFaults.Kinds, .. CoilFaults.Kinds, .. WiringFaults.Kinds, .. InjectorFaults.Kinds, .. FuelSupplyFaults.Kinds,
        .. AirFaults.Kinds, .. SealFaults.Kinds, .. ValveGearFaults.Kinds,
    ];

    /// <summary>The kinds that an engine can have.</summary>
    public static ImmutableArray<FaultKind> On(Engine engine) => [.. All.Where(k => k.On(engine) && k.PlacesOn(engine).Count > 0)];

    /// <summary>True where each cylinder has a coil of its own.</summary>
    public static bool OwnCoils(Engine engine) => engine.Ignition is Ignition.CoilOnPlug or Ignition.CoilNearPlug;

    /// <summary>True where a lead lies between coil and plug.</summary>
    public static bool Leads(Engine engine) => engine.Ignition is not Ignition.CoilOnPlug;

    /// <summary>True where each cylinder has an injector of its own.</summary>
    public static bool OwnInjectors(Engine engine) => engine.Injection is Injection.Port or Injection.Direct;

    /// <summary>Writes to every cylinder that the fault touches, with its share of the severity.</summary>
    public static void Each(this GarageFault fault, Body body, Action<CylinderBody> write)
    {
        foreach (var cylinder in fault.Duties.Keys)
        {
            write(body[cylinder]);
        }
    }

    /// <summary>Writes to every bank of the fault's place.</summary>
    public static void EachBank(this GarageFault fault, Body body, Action<BankBody> write)
    {
        foreach (var bank in fault.Banks(body.Engine))
        {
            write(body.Bank(bank));
        }
    }
}
