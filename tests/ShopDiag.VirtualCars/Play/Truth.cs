using ShopDiag.Diagnosis;
using ShopDiag.Diagnosis.Engines;
using ShopDiag.VirtualCars.Cars;

namespace ShopDiag.VirtualCars.Play;

/// <summary>When a diagnosis names a hidden fault.</summary>
internal static class Truth
{
    /// <summary>The cause that says that the engine is sound.</summary>
    public const string NotAMisfire = "not-a-misfire";

    // Two names for what no bench reading tells apart, and whose repair is one and the same work: trace the wire to the computer.
    private static readonly (string Said, string Hidden)[] SameWork =
    [
        ("coil-control-lost", "control-module-driver"), ("injector-control-lost", "control-module-driver"),

        // A coil on plug is sold with its boot; no bench reading but the spark's own track tells one from the other.
        ("coil-failed", "coil-boot-leak"),
    ];

    // A coil that sits on its plug is bought with its boot, and goes from cylinder to cylinder with it: no reading tells which of the two leaks.
    // A lead is bought with the boots at its ends.
    private static bool IsOnePart(string said, string hidden, Engine engine) => hidden == "coil-boot-leak"
        && said == (engine.Ignition == Ignition.CoilOnPlug ? "coil-failed" : "plug-wire-open");

    // Worn plugs are renewed as a set, and all of the set are worn: which one is named makes no difference.
    private const string OfTheSet = "plug-worn";

    /// <summary>True when a cause at a place names a hidden fault: the same cause, at the same place or at one that cannot be told from it.</summary>
    public static bool Names(string cause, Place at, HiddenFault hidden, Engine engine) =>
        (cause == hidden.Cause || SameWork.Contains((cause, hidden.Cause)) || IsOnePart(cause, hidden.Cause, engine)) && (at == hidden.At || (cause == OfTheSet && hidden.Cause == OfTheSet) || SamePlace(at, hidden.At, engine));

    // A pair's part named by one of its cylinders, and a bank that is the whole engine.
    private static bool SamePlace(Place said, Place hidden, Engine engine) => (said.Kind, hidden.Kind) switch
    {
        (PlaceKind.Cylinder, PlaceKind.Pair) => hidden.First == said.First || hidden.Second == said.First,
        (PlaceKind.Pair, PlaceKind.Cylinder) => said.First == hidden.First || said.Second == hidden.First,
        (PlaceKind.Bank, PlaceKind.Engine) or (PlaceKind.Engine, PlaceKind.Bank) => engine.Banks.Length == 1,
        _ => false,
    };
}
