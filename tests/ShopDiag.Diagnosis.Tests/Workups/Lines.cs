using System.Text.Json.Nodes;
using ShopDiag.Diagnosis.Engines;
using ShopDiag.Diagnosis.Wire;
using ShopDiag.Diagnosis.Workups;

namespace ShopDiag.Diagnosis.Tests.Workups;

/// <summary>Workups written the way they travel.</summary>
internal static class Lines
{
    public const string V6 = """{"layout":"V6","banks":[[1,3,5],[2,4,6]],"firingOrder":[1,2,3,4,5,6],"ignition":"coil-on-plug","injection":"port"}""";
    public const string I4 = """{"layout":"I4","banks":[[1,2,3,4]],"firingOrder":[1,3,4,2],"ignition":"coil-on-plug","injection":"port"}""";
    public const string I4WasteSpark = """{"layout":"I4","banks":[[1,2,3,4]],"firingOrder":[1,3,4,2],"ignition":"waste-spark","injection":"port"}""";

    public static Workup Workup(string engine, IEnumerable<string> readings, string concern = "{}") =>
        Read($$"""{"id":"w","engine":{{engine}},"concern":{{concern}},"readings":[{{string.Join(',', readings)}}]}""");

    public static Workup Read(string line)
    {
        var (_, workup) = WorkupJson.Read(line, Knowledge.Shipped);
        Assert.True(workup.IsValid, workup.Error?.ToString());
        return workup.Value;
    }

    public static Assessment Assess(string engine, params string[] readings) =>
        Diagnostician.Assess(Workup(engine, readings), Knowledge.Shipped);

    public static string Reading(string test, int cylinder, string value, string more = "") =>
        $$"""{"test":"{{test}}","cylinder":{{cylinder}},"value":{{value}}{{more}}}""";

    /// <summary>A power balance round in which the named cylinders drop little and the others about 60 rpm.</summary>
    public static IEnumerable<string> Balance(int cylinders, params int[] dead) => Enumerable.Range(1, cylinders).Select(c =>
        Reading("power-balance", c, dead.Contains(c) ? """{"baseRpm":[702,700],"cancelledRpm":[700,697]}""" : """{"baseRpm":[702,700],"cancelledRpm":[641,638]}"""));

    public static RankedCause Cause(this Assessment assessment, string cause, Place at) =>
        assessment.Causes.Single(c => c.Cause == cause && c.At == at);

    /// <summary>How much of the probability lies on causes that a cylinder has part in: its own, and those of its pairs, its bank and the engine.</summary>
    public static double Suspicion(this Assessment assessment, Engine engine, int cylinder) =>
        assessment.Causes.Where(c => engine.CylindersAt(c.At).Contains(cylinder)).Sum(c => c.Probability);

    public static JsonObject Json(string line) => (JsonObject)JsonNode.Parse(line)!;
}
