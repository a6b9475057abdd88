using ShopDiag.Diagnosis.BenchTests;
using ShopDiag.Diagnosis.Causes;
using ShopDiag.Diagnosis.Engines;
using ShopDiag.Diagnosis.Learning;
using ShopDiag.Diagnosis.Tests.Reasoning;

namespace ShopDiag.Diagnosis.Tests.Learning;

/// <summary>Small knowledge of causes that one reading proves, and cases on engines of a few families.</summary>
internal static class Shops
{
    public static EngineFamily Four { get; } = new("I4", Ignition.CoilOnPlug, Injection.Port);

    public static EngineFamily Six { get; } = new("V6", Ignition.CoilOnPlug, Injection.Port);

    public static EngineFamily OldEight { get; } = new("V8", Ignition.Distributor, Injection.Port);

    public static Knowledge Causes(params Cause[] causes) => SmallWorld.Knowledge([SmallWorld.Test("look", TestScope.Cylinder, 0.01, 1, ("bad", 0.5), ("good", 0.5))], causes);

    public static Cause Cause(string id, double weight) => Unprovable(id, weight) with { Proof = [new ProofRule([new OutcomeAt("look", ["bad"])], "made up")] };

    public static Cause Unprovable(string id, double weight) => SmallWorld.Cause(id, CauseScope.Cylinder, weight, alone: false);

    public static CaseCount Cases(this EngineFamily family, string cause, int cases) => new(cause, family, cases);

    public static double Share(this LearnedPriors priors, string cause) => priors.Causes.Single(c => c.Cause == cause).Learned;
}
