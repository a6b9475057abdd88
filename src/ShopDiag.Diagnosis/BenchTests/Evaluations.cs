using System.Collections.Immutable;
using ShopDiag.Diagnosis.BenchTests.AirSignal;
using ShopDiag.Diagnosis.BenchTests.CoilFeed;
using ShopDiag.Diagnosis.BenchTests.CoilResistance;
using ShopDiag.Diagnosis.BenchTests.CompressionDry;
using ShopDiag.Diagnosis.BenchTests.CompressionRunning;
using ShopDiag.Diagnosis.BenchTests.CompressionWet;
using ShopDiag.Diagnosis.BenchTests.CrankingCurrent;
using ShopDiag.Diagnosis.BenchTests.EgrBlock;
using ShopDiag.Diagnosis.BenchTests.ExhaustBackpressure;
using ShopDiag.Diagnosis.BenchTests.FuelPressure;
using ShopDiag.Diagnosis.BenchTests.FuelSample;
using ShopDiag.Diagnosis.BenchTests.FuelTrims;
using ShopDiag.Diagnosis.BenchTests.InjectorDrop;
using ShopDiag.Diagnosis.BenchTests.InjectorResistance;
using ShopDiag.Diagnosis.BenchTests.IntakeLeak;
using ShopDiag.Diagnosis.BenchTests.LeakDown;
using ShopDiag.Diagnosis.BenchTests.ManifoldVacuum;
using ShopDiag.Diagnosis.BenchTests.MisfireCounts;
using ShopDiag.Diagnosis.BenchTests.PlugCondition;
using ShopDiag.Diagnosis.BenchTests.PowerBalance;
using ShopDiag.Diagnosis.BenchTests.RoadCheck;
using ShopDiag.Diagnosis.BenchTests.RunnerTemperature;
using ShopDiag.Diagnosis.BenchTests.SparkOutput;
using ShopDiag.Diagnosis.BenchTests.SystemVoltage;
using ShopDiag.Diagnosis.BenchTests.TroubleCodes;
using ShopDiag.Diagnosis.BenchTests.ValveClearance;
using ShopDiag.Diagnosis.BenchTests.ValveLift;

namespace ShopDiag.Diagnosis.BenchTests;

/// <summary>Every evaluation that <c>test.json</c> may name.</summary>
public static class Evaluations
{
    /// <summary>The evaluations by name.</summary>
    public static ImmutableDictionary<string, ITestEvaluation> All { get; } = new ITestEvaluation[]
    {
        new AsGivenEvaluation(),
        new YesNoEvaluation(),
        new TroubleCodesEvaluation(),
        new RoadCheckEvaluation(),
        new MisfireCountsEvaluation(),
        new PowerBalanceEvaluation(),
        new RunnerTemperatureEvaluation(),
        new SparkOutputEvaluation(),
        new SwapEvaluation("coil-swap", "coil", "a connector that was only seated badly", isCoil: true),
        new CoilFeedEvaluation(),
        new CoilResistanceEvaluation(),
        new PlugConditionEvaluation(),
        new SwapEvaluation("plug-swap", "plug", "a plug that was not tight or a connector that was only seated badly"),
        new SystemVoltageEvaluation(),
        new InjectorResistanceEvaluation(),
        new SwapEvaluation("injector-swap", "injector", "dirt that was moved or a connector that was only seated badly"),
        new InjectorDropEvaluation(),
        new FuelPressureEvaluation(),
        new FuelSampleEvaluation(),
        new IntakeLeakEvaluation(),
        new FuelTrimsEvaluation(),
        new AirSignalEvaluation(),
        new EgrBlockEvaluation(),
        new CompressionDryEvaluation(),
        new CompressionWetEvaluation(),
        new LeakDownEvaluation(),
        new ManifoldVacuumEvaluation(),
        new ExhaustBackpressureEvaluation(),
        new CompressionRunningEvaluation(),
        new CrankingCurrentEvaluation(),
        new ValveLiftEvaluation(),
        new ValveClearanceEvaluation(),
    }.ToImmutableDictionary(e => e.Name, StringComparer.Ordinal);
}
