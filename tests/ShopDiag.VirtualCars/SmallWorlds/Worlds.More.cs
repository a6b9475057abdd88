using ShopDiag.Diagnosis.BenchTests;

namespace ShopDiag.VirtualCars.SmallWorlds;

internal static partial class Worlds
{
    private static SmallWorld ScreenFirst() => new WorldBuilder("a screen before dear proofs", "every proof is long; two short tests that prove nothing say which to begin with")
        .Test("spark-output", 4, Access.None, 0.02, ("none", 0.02), ("strong", 0.98))
        .EngineTest("fuel-trims", 3, 0.02, ("lean", 0.05), ("normal", 0.95))
        .Test("coil-swap", 22, Access.None, 0.02, ("follows", 0.01), ("stays", 0.99))
        .Test("injector-flow", 28, Access.None, 0.02, ("low", 0.01), ("even", 0.99))
        .Test("intake-smoke", 20, Access.None, 0.02, ("leak", 0.02), ("none", 0.98))
        .Test("leak-down", 24, Access.PlugsOut, 0.01, ("leaks", 0.02), ("tight", 0.98))
        .Cause("coil-failed", 0.3, ("spark-output", [0.93, 0.07]), ("coil-swap", [0.95, 0.05])).Proof(("coil-swap", "follows"))
        .Cause("injector-clogged", 0.25, ("fuel-trims", [0.85, 0.15]), ("injector-flow", [0.94, 0.06])).Proof(("injector-flow", "low"))
        .Cause("intake-leak-runner", 0.2, ("fuel-trims", [0.9, 0.1]), ("intake-smoke", [0.94, 0.06])).Proof(("intake-smoke", "leak"))
        .Cause("valve-leak", 0.25, ("leak-down", [0.96, 0.04])).Proof(("leak-down", "leaks"))
        .Build();

    private static SmallWorld ProofThatFails() => new WorldBuilder("proofs that often fail, and something unlisted", "two ways to prove a coil, each missing one in four; one car in seven is none of the listed")
        .Test("spark-output", 4, Access.None, 0.02, ("none", 0.02), ("weak", 0.04), ("strong", 0.94))
        .Test("coil-feed", 3, Access.None, 0.01, ("good", 0.97), ("none", 0.03))
        .Test("coil-swap", 8, Access.None, 0.03, ("follows", 0.01), ("stays", 0.99))
        .Test("injector-sound", 2, Access.None, 0.02, ("silent", 0.03), ("ticking", 0.97))
        .Test("injector-resistance", 7, Access.None, 0.01, ("open", 0.01), ("within", 0.99))
        .Test("plug-condition", 2, Access.PlugsOut, 0.03, ("cracked", 0.02), ("normal", 0.98))
        .Cause("coil-failed", 0.34, ("spark-output", [0.7, 0.2, 0.1]), ("coil-swap", [0.75, 0.25])).Proof(("coil-swap", "follows")).Proof(("spark-output", "none"), ("coil-feed", "good"))
        .Cause("coil-feed-lost", 0.12, ("spark-output", [0.95, 0.03, 0.02]), ("coil-feed", [0.05, 0.95])).Proof(("coil-feed", "none"))
        .Cause("injector-winding-failed", 0.2, ("injector-sound", [0.95, 0.05]), ("injector-resistance", [0.9, 0.1])).Proof(("injector-resistance", "open"))
        .Cause("plug-cracked", 0.2, ("plug-condition", [0.75, 0.25])).Proof(("plug-condition", "cracked"))
        .Unlisted(0.14)
        .Build();

    private static SmallWorld CoverOrPlugs() => new WorldBuilder("valve cover or plugs", "two strip-downs, each opening two proofs; a test without either says which")
        .TakingOff(plug: 10, valveCover: 25)
        .Test("cranking-current", 6, Access.None, 0.02, ("low", 0.03), ("good", 0.97))
        .Test("plug-condition", 2, Access.PlugsOut, 0.02, ("cracked", 0.02), ("normal", 0.98))
        .Test("leak-down", 12, Access.PlugsOut, 0.01, ("leaks", 0.02), ("tight", 0.98))
        .Test("valve-lift", 5, Access.ValveCover, 0.01, ("lost", 0.01), ("good", 0.99))
        .Test("valve-clearance", 6, Access.ValveCover, 0.01, ("tight", 0.02), ("within", 0.98))
        .Cause("valve-lift-lost", 0.34, ("cranking-current", [0.92, 0.08]), ("valve-lift", [0.96, 0.04])).Proof(("valve-lift", "lost"))
        .Cause("valve-clearance-tight", 0.2, ("cranking-current", [0.88, 0.12]), ("leak-down", [0.9, 0.1]), ("valve-clearance", [0.95, 0.05])).Proof(("valve-clearance", "tight"))
        .Cause("exhaust-valve-leak", 0.2, ("cranking-current", [0.9, 0.1]), ("leak-down", [0.95, 0.05])).Proof(("valve-clearance", "within"), ("leak-down", "leaks"))
        .Cause("plug-cracked", 0.26, ("plug-condition", [0.93, 0.07])).Proof(("plug-condition", "cracked"))
        .Build();

    private static SmallWorld TwoScreens() => new WorldBuilder("two weak screens for one decision", "neither short test alone changes what is proven first, both together do")
        .Test("runner-temperature", 2, Access.None, 0.02, ("cold", 0.5), ("even", 0.5))
        .Test("scope-pattern", 3, Access.None, 0.02, ("odd", 0.25), ("plain", 0.75))
        .Test("coil-swap", 12, Access.None, 0.02, ("follows", 0.01), ("stays", 0.99))
        .Test("injector-swap", 24, Access.None, 0.02, ("follows", 0.01), ("stays", 0.99))
        .Test("leak-down", 30, Access.PlugsOut, 0.01, ("leaks", 0.02), ("tight", 0.98))
        .Cause("coil-failed", 0.45, ("scope-pattern", [0.75, 0.25]), ("coil-swap", [0.95, 0.05])).Proof(("coil-swap", "follows"))
        .Cause("injector-failed", 0.3, ("runner-temperature", [0.85, 0.15]), ("injector-swap", [0.95, 0.05])).Proof(("injector-swap", "follows"))
        .Cause("valve-leak", 0.25, ("runner-temperature", [0.2, 0.8]), ("leak-down", [0.95, 0.05])).Proof(("leak-down", "leaks"))
        .Build();

    private static SmallWorld PartsOfOneProof() => new WorldBuilder("proofs of several parts", "readings shared by several proofs are worth more than the one that finishes the likeliest")
        .Test("coil-control", 5, Access.None, 0.01, ("present", 0.97), ("absent", 0.03))
        .Test("coil-feed", 3, Access.None, 0.01, ("good", 0.97), ("none", 0.03))
        .Test("spark-output", 4, Access.None, 0.02, ("none", 0.02), ("strong", 0.98))
        .Test("coil-swap", 15, Access.None, 0.02, ("follows", 0.01), ("stays", 0.99))
        .Test("wire-end-to-end", 12, Access.None, 0.01, ("open", 0.01), ("whole", 0.99))
        .Test("injector-swap", 16, Access.None, 0.02, ("follows", 0.01), ("stays", 0.99))
        .Cause("coil-failed", 0.36, ("spark-output", [0.94, 0.06]), ("coil-swap", [0.95, 0.05])).Proof(("spark-output", "none"), ("coil-feed", "good"), ("coil-control", "present")).Proof(("coil-swap", "follows"))
        .Cause("coil-feed-lost", 0.12, ("spark-output", [0.96, 0.04]), ("coil-feed", [0.04, 0.96])).Proof(("coil-feed", "none"))
        .Cause("coil-control-lost", 0.14, ("spark-output", [0.96, 0.04]), ("coil-control", [0.05, 0.95]), ("wire-end-to-end", [0.9, 0.1])).Proof(("coil-control", "absent"), ("wire-end-to-end", "open"))
        .Cause("control-module-driver", 0.06, ("spark-output", [0.96, 0.04]), ("coil-control", [0.05, 0.95])).Proof(("coil-control", "absent"), ("coil-feed", "good"), ("wire-end-to-end", "whole"))
        .Cause("injector-failed", 0.32, ("injector-swap", [0.95, 0.05])).Proof(("injector-swap", "follows"))
        .Build();
}
