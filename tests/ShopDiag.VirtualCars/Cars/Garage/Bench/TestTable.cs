using System.Collections.Frozen;

namespace ShopDiag.VirtualCars.Cars.Garage.Bench;

/// <summary>Every test that this garage's cars answer to, by id.</summary>
internal static class TestTable
{
    /// <summary>Id of the test that reads the codes; its answer is kept in the car and not made up anew.</summary>
    public const string Codes = "trouble-codes";

    private static readonly FrozenDictionary<string, Func<Visit, Values>> Tests = new Dictionary<string, Func<Visit, Values>>
    {
        ["power-balance"] = PullTests.Balance,
        ["misfire-counts"] = PullTests.Counts,
        ["spark-output"] = SparkTests.Spark,
        ["coil-swap"] = v => SwapTests.Swap(v, Part.Coil),
        ["plug-swap"] = v => SwapTests.Swap(v, Part.Plug),
        ["coil-control"] = SparkTests.Control,
        ["coil-feed"] = SparkTests.Feed,
        ["coil-resistance"] = SparkTests.Resistance,
        ["plug-condition"] = LookTests.Plug,
        ["injector-sound"] = InjectorTests.Sound,
        ["injector-resistance"] = InjectorTests.Resistance,
        ["injector-control"] = InjectorTests.Control,
        ["injector-swap"] = v => SwapTests.Swap(v, Part.Injector),
        ["injector-drop"] = InjectorTests.Drop,
        ["intake-leak"] = AirTests.Leak,
        ["compression-dry"] = SealTests.Dry,
        ["compression-wet"] = SealTests.Wet,
        ["compression-running"] = SealTests.Running,
        ["cranking-current"] = SealTests.Cranking,
        ["leak-down"] = SealTests.LeakDown,
        ["valve-lift"] = ValveTests.Lift,
        ["valve-clearance"] = ValveTests.Clearance,
        ["borescope"] = LookTests.Borescope,
        ["runner-temperature"] = LookTests.Runner,
        ["fuel-trims"] = AirTests.Trims,
        ["fuel-pressure"] = FuelTests.Pressure,
        ["manifold-vacuum"] = AirTests.Vacuum,
        ["exhaust-backpressure"] = AirTests.Backpressure,
        ["system-voltage"] = FuelTests.Voltage,
        ["cam-timing"] = FuelTests.CamTiming,
        ["combustion-gas-in-coolant"] = FuelTests.GasInCoolant,
        ["egr-block"] = AirTests.EgrBlocked,
        ["fuel-sample"] = FuelTests.Sample,
        ["road-check"] = TalkTests.Road,
    }.ToFrozenDictionary(StringComparer.Ordinal);

    // What is worn, burnt or cracked is so whether the fault is awake or not; everything else must meet it awake.
    private static readonly FrozenSet<string> StandingStill = new[]
    {
        "plug-condition", "borescope", "compression-dry", "compression-wet", "compression-running", "cranking-current", "leak-down",
        "valve-lift", "valve-clearance", "cam-timing", "combustion-gas-in-coolant", "fuel-sample", "exhaust-backpressure", "intake-leak", "road-check",
    }.ToFrozenSet(StringComparer.Ordinal);

    /// <summary>True for a test that these cars can answer.</summary>
    public static bool Has(string test) => Tests.ContainsKey(test);

    /// <summary>True for a test to which a fault must be awake to be seen.</summary>
    public static bool NeedsAwake(string test) => !StandingStill.Contains(test);

    /// <summary>Takes a test.</summary>
    public static Values Take(string test, Visit visit) => Tests[test](visit);
}
