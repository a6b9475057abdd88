using ShopDiag.Signals.Measured.Engines;
using ShopDiag.Signals.Measured.Noise;
using ShopDiag.Signals.Measured.Tables;

namespace ShopDiag.Web.Tests.Api;

/// <summary>What a program would send.</summary>
internal static class Samples
{
    public const string Engine = """{"layout":"V6","banks":[[1,3,5],[2,4,6]],"firingOrder":[1,2,3,4,5,6],"ignition":"coil-on-plug","injection":"port","accessMinutes":{"2":40}}""";

    /// <summary>Three workups, the last with letters beyond ASCII, and three lines that are wrong.</summary>
    public const string Workups = $$$"""
        {"id":"a","engine":{{{Engine}}},"concern":{"codes":["P0304"],"lamp":"steady","when":["idle"]},"shop":{"tools":["*"],"labourPerHour":120},"readings":[{"test":"spark-output","cylinder":4,"value":{"gapMm":20,"jumps":"none"}}]}
        {"id":"b","engine":{{{Engine}}},"readings":[{"test":"compression-dry","cylinder":4,"value":{"kPa":-5}}]}
        not json

        {"id":"c","engine":{{{Engine}}},"obstacles":[{"test":"leak-down","cylinder":4,"why":"no adapter fits"},{"test":"compression-dry"},{"test":"fuel-trims","bank":1}]}
        {"id":"d","engine":{{{Engine}}},"obstacles":[{"cylinder":4,"why":"which test?"}]}
        {"id":"Zündung № 4","engine":{{{Engine}}},"readings":[{"test":"compression-dry","cylinder":1,"value":{"kPa":1210},"note":"größer"}]}

        """;

    public const string Obd = "(0.000000) can0 7DF#02010C0000000000\n(0.010000) can0 7E8#04410C1AF800000000\nnonsense\n7E8 06 43 02 03 04 03 01\n";

    private static readonly Lazy<byte[]> OfSound = new(() =>
    {
        var trial = new Trial(4, 750, Scene.Shop, 10, 61);
        return WavFile.Of(trial.Sound(trial.Run()), trial.Rate);
    });

    /// <summary>A balance run of four cylinders, as WAV.</summary>
    public static byte[] Sound => OfSound.Value;

    /// <summary>Current of an ignition coil, as text.</summary>
    public static string Coil { get; } = "Time,Clamp\n(s),(A)\n" + string.Concat(Enumerable.Range(0, 20_000).Select(i => (T: i * 5e-6, Into: (i * 5e-6) % 0.012)).Select(s => FormattableString.Invariant(
        $"{s.T:0.000000},{(s.Into is > 0.004 and < 0.007 ? 28 * (1 - Math.Exp(-(s.Into - 0.004) / 0.007)) : 0) + (0.02 * Math.Sin(s.T * 1e6)):0.0000}\n")));
}
