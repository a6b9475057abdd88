using System.Collections.Immutable;
using ShopDiag.Diagnosis.BenchTests;

namespace ShopDiag.VirtualCars.SmallWorlds;

/// <summary>The small worlds, each of another structure. Cylinder 2 of an in-line four does not pull; all numbers are made up.</summary>
internal static partial class Worlds
{
    /// <summary>All of them.</summary>
    public static ImmutableArray<SmallWorld> All { get; } =
    [
        Ordinary(), OpensTheWay(), SharedStripDown(), LikeliestIsDear(), Tempting(), ScreenFirst(), ProofThatFails(), CoverOrPlugs(), TwoScreens(), PartsOfOneProof(),
    ];

    private static SmallWorld Ordinary() => new WorldBuilder("ordinary dead cylinder", "spark, injector and compression each in their turn")
        .Test("spark-output", 4, Access.None, 0.02, ("none", 0.02), ("strong", 0.98))
        .Test("coil-swap", 8, Access.None, 0.02, ("follows", 0.01), ("stays", 0.99))
        .Test("injector-sound", 2, Access.None, 0.02, ("silent", 0.03), ("ticking", 0.97))
        .Test("injector-swap", 18, Access.None, 0.02, ("follows", 0.01), ("stays", 0.99))
        .Test("plug-condition", 2, Access.PlugsOut, 0.02, ("cracked", 0.02), ("normal", 0.98))
        .Test("compression-dry", 5, Access.PlugsOut, 0.01, ("low", 0.02), ("good", 0.98))
        .TestAfter(("compression-dry", "low"), "leak-down", 12, Access.PlugsOut, 0.01, ("exhaust", 0.02), ("crankcase", 0.03), ("tight", 0.95))
        .Cause("coil-failed", 0.34, ("spark-output", [0.93, 0.07]), ("coil-swap", [0.95, 0.05])).Proof(("coil-swap", "follows"))
        .Cause("plug-cracked", 0.24, ("plug-condition", [0.9, 0.1])).Proof(("plug-condition", "cracked"))
        .Cause("injector-failed", 0.22, ("injector-sound", [0.7, 0.3]), ("injector-swap", [0.95, 0.05])).Proof(("injector-swap", "follows"))
        .Cause("exhaust-valve-leak", 0.12, ("compression-dry", [0.96, 0.04]), ("leak-down", [0.94, 0.03, 0.03])).Proof(("compression-dry", "low"), ("leak-down", "exhaust"))
        .Cause("rings-worn", 0.08, ("compression-dry", [0.92, 0.08]), ("leak-down", [0.03, 0.92, 0.05])).Proof(("compression-dry", "low"), ("leak-down", "crankcase"))
        .Build();

    private static SmallWorld OpensTheWay() => new WorldBuilder("a step that tells nothing opens the way", "finding dead centre tells nothing, but the leak-down after it proves three causes")
        .Test("coil-swap", 8, Access.None, 0.02, ("follows", 0.01), ("stays", 0.99))
        .Test("dead-centre", 4, Access.PlugsOut, 0.005, ("found", 0.98), ("not-found", 0.02))
        .TestAfter(("dead-centre", "found"), "leak-down", 6, Access.PlugsOut, 0.01, ("exhaust", 0.01), ("crankcase", 0.02), ("neighbour", 0.01), ("tight", 0.96))
        .Test("camera", 22, Access.PlugsOut, 0.02, ("valve-burnt", 0.01), ("normal", 0.99))
        .Test("oil-in-cylinder", 17, Access.PlugsOut, 0.02, ("rises", 0.02), ("same", 0.98))
        .Test("pressure-next-door", 20, Access.PlugsOut, 0.02, ("passes", 0.01), ("holds", 0.99))
        .Cause("exhaust-valve-leak", 0.32, ("leak-down", [0.94, 0.02, 0.01, 0.03]), ("camera", [0.92, 0.08])).Proof(("leak-down", "exhaust")).Proof(("camera", "valve-burnt"))
        .Cause("rings-worn", 0.28, ("leak-down", [0.02, 0.93, 0.01, 0.04]), ("oil-in-cylinder", [0.92, 0.08])).Proof(("leak-down", "crankcase")).Proof(("oil-in-cylinder", "rises"))
        .Cause("head-gasket", 0.22, ("leak-down", [0.01, 0.02, 0.92, 0.05]), ("pressure-next-door", [0.93, 0.07])).Proof(("leak-down", "neighbour")).Proof(("pressure-next-door", "passes"))
        .Cause("coil-failed", 0.18, ("coil-swap", [0.95, 0.05])).Proof(("coil-swap", "follows"))
        .Build();

    private static SmallWorld SharedStripDown() => new WorldBuilder("one strip-down for several tests", "covers and plug off pay for two or three readings at once")
        .TakingOff(plug: 4, bank: 18)
        .Test("cranking-current", 9, Access.None, 0.02, ("low", 0.03), ("good", 0.97))
        .Test("injector-swap", 14, Access.None, 0.02, ("follows", 0.01), ("stays", 0.99))
        .Test("coil-swap", 6, Access.Coils, 0.02, ("follows", 0.01), ("stays", 0.99))
        .Test("plug-condition", 2, Access.PlugsOut, 0.02, ("cracked", 0.02), ("normal", 0.98))
        .Test("compression-dry", 4, Access.PlugsOut, 0.01, ("low", 0.02), ("good", 0.98))
        .TestAfter(("compression-dry", "low"), "compression-wet", 4, Access.PlugsOut, 0.02, ("rises", 0.3), ("same", 0.7))
        .Cause("plug-cracked", 0.28, ("plug-condition", [0.92, 0.08])).Proof(("plug-condition", "cracked"))
        .Cause("exhaust-valve-leak", 0.22, ("cranking-current", [0.9, 0.1]), ("compression-dry", [0.96, 0.04]), ("compression-wet", [0.06, 0.94])).Proof(("compression-dry", "low"), ("compression-wet", "same"))
        .Cause("rings-worn", 0.16, ("cranking-current", [0.85, 0.15]), ("compression-dry", [0.94, 0.06]), ("compression-wet", [0.92, 0.08])).Proof(("compression-dry", "low"), ("compression-wet", "rises"))
        .Cause("coil-failed", 0.16, ("coil-swap", [0.95, 0.05])).Proof(("coil-swap", "follows"))
        .Cause("injector-failed", 0.18, ("injector-swap", [0.95, 0.05])).Proof(("injector-swap", "follows"))
        .Build();

    private static SmallWorld LikeliestIsDear() => new WorldBuilder("the likeliest is dear to prove", "the cheap proofs of less likely causes come first, or a screen does")
        .Test("coil-swap", 6, Access.None, 0.02, ("follows", 0.01), ("stays", 0.99))
        .Test("injector-swap", 9, Access.None, 0.02, ("follows", 0.01), ("stays", 0.99))
        .Test("intake-leak", 7, Access.None, 0.02, ("leak", 0.02), ("none", 0.98))
        .Test("plug-condition", 2, Access.PlugsOut, 0.02, ("cracked", 0.02), ("normal", 0.98))
        .Test("compression-dry", 5, Access.PlugsOut, 0.01, ("low", 0.02), ("good", 0.98))
        .Test("leak-down", 38, Access.PlugsOut, 0.01, ("exhaust", 0.02), ("tight", 0.98))
        .Cause("exhaust-valve-leak", 0.5, ("compression-dry", [0.9, 0.1]), ("leak-down", [0.95, 0.05])).Proof(("leak-down", "exhaust"))
        .Cause("coil-failed", 0.18, ("coil-swap", [0.95, 0.05])).Proof(("coil-swap", "follows"))
        .Cause("injector-failed", 0.14, ("injector-swap", [0.95, 0.05])).Proof(("injector-swap", "follows"))
        .Cause("intake-leak-runner", 0.1, ("intake-leak", [0.93, 0.07])).Proof(("intake-leak", "leak"))
        .Cause("plug-cracked", 0.08, ("plug-condition", [0.92, 0.08])).Proof(("plug-condition", "cracked"))
        .Build();

    private static SmallWorld Tempting() => new WorldBuilder("a tempting test that is of no use", "two minutes tell two valves apart, but the leak-down that proves either tells them apart too")
        .Test("vacuum-pulse", 2, Access.None, 0.02, ("intake-side", 0.5), ("exhaust-side", 0.5))
        .Test("spark-output", 4, Access.None, 0.02, ("none", 0.02), ("strong", 0.98))
        .Test("coil-swap", 9, Access.None, 0.02, ("follows", 0.01), ("stays", 0.99))
        .Test("injector-swap", 14, Access.None, 0.02, ("follows", 0.01), ("stays", 0.99))
        .Test("compression-dry", 4, Access.PlugsOut, 0.01, ("low", 0.02), ("good", 0.98))
        .Test("leak-down", 14, Access.PlugsOut, 0.01, ("intake", 0.01), ("exhaust", 0.01), ("tight", 0.98))
        .Cause("intake-valve-leak", 0.28, ("vacuum-pulse", [0.95, 0.05]), ("compression-dry", [0.95, 0.05]), ("leak-down", [0.94, 0.02, 0.04])).Proof(("leak-down", "intake"))
        .Cause("exhaust-valve-leak", 0.28, ("vacuum-pulse", [0.05, 0.95]), ("compression-dry", [0.95, 0.05]), ("leak-down", [0.02, 0.94, 0.04])).Proof(("leak-down", "exhaust"))
        .Cause("coil-failed", 0.24, ("spark-output", [0.93, 0.07]), ("coil-swap", [0.95, 0.05])).Proof(("coil-swap", "follows"))
        .Cause("injector-failed", 0.2, ("injector-swap", [0.95, 0.05])).Proof(("injector-swap", "follows"))
        .Build();
}
