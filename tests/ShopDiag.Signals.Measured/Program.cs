#pragma warning disable CA1305
using ShopDiag.Signals.Measured.Noise;
using ShopDiag.Signals.Measured.Tables;

var seed0 = int.Parse(args[0]);
var per = int.Parse(args[1]);
var ns = args[2].Split(',').Select(int.Parse).ToArray();
var cells = args[3].Split(',').Select(c => (Scene: Scene.All[int.Parse(c.Split(':')[0])], Snr: double.Parse(c.Split(':')[1]))).ToArray();
foreach (var (scene, snr) in cells)
{
    foreach (var n in ns)
    {
        var trials = (from rpm in new[] { 600.0, 750, 1000, 1500 } from s in Enumerable.Range(0, per) select new Trial(n, rpm, scene, snr, seed0 + (100 * n) + (int)rpm + s)).ToArray();
        var outcomes = new Outcome[trials.Length];
        Parallel.For(0, trials.Length, new ParallelOptions { MaxDegreeOfParallelism = 2 }, i => outcomes[i] = Outcome.Of(trials[i]));
        Console.WriteLine($"{scene.Name} {snr} N={n} | {Outcome.Together(outcomes)}");
        if (args.Length > 4) for (var i = 0; i < trials.Length; i++) Console.WriteLine($"    {trials[i].IdleRpm} {trials[i].Seed} | {outcomes[i]}");
    }
}
