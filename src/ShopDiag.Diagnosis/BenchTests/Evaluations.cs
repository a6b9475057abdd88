using System.Collections.Immutable;
using ShopDiag.Diagnosis.BenchTests.CoilFeed;
using ShopDiag.Diagnosis.BenchTests.CoilSwap;
using ShopDiag.Diagnosis.BenchTests.CompressionDry;
using ShopDiag.Diagnosis.BenchTests.CompressionWet;
using ShopDiag.Diagnosis.BenchTests.FuelTrims;
using ShopDiag.Diagnosis.BenchTests.InjectorResistance;
using ShopDiag.Diagnosis.BenchTests.IntakeLeak;
using ShopDiag.Diagnosis.BenchTests.LeakDown;
using ShopDiag.Diagnosis.BenchTests.MisfireCounts;
using ShopDiag.Diagnosis.BenchTests.PlugCondition;
using ShopDiag.Diagnosis.BenchTests.PowerBalance;
using ShopDiag.Diagnosis.BenchTests.SparkOutput;
using ShopDiag.Diagnosis.BenchTests.TroubleCodes;

namespace ShopDiag.Diagnosis.BenchTests;

/// <summary>Every evaluation that <c>test.json</c> may name.</summary>
public static class Evaluations
{
    /// <summary>The evaluations by name.</summary>
    public static ImmutableDictionary<string, ITestEvaluation> All { get; } = new ITestEvaluation[]
    {
        new AsGivenEvaluation(),
        new TroubleCodesEvaluation(),
        new MisfireCountsEvaluation(),
        new PowerBalanceEvaluation(),
        new SparkOutputEvaluation(),
        new CoilSwapEvaluation(),
        new CoilFeedEvaluation(),
        new PlugConditionEvaluation(),
        new InjectorResistanceEvaluation(),
        new IntakeLeakEvaluation(),
        new FuelTrimsEvaluation(),
        new CompressionDryEvaluation(),
        new CompressionWetEvaluation(),
        new LeakDownEvaluation(),
    }.ToImmutableDictionary(e => e.Name, StringComparer.Ordinal);
}
