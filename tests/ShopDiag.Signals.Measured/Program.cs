using System.Diagnostics;
using ShopDiag.Signals.Measured.Noise;
using ShopDiag.Signals.Measured.Tables;
using ShopDiag.Signals.Speed;

foreach (var n in new[] { 3, 4, 6, 8 })
{
    foreach (var (scene, snr) in new[] { (Scene.Clean, 10.0), (Scene.Shop, 0.0) })
    {
        var w = Stopwatch.StartNew();
        var trial = new Trial(n, 750, scene, snr, 1 + n);
        var run = trial.Run();
        var t1 = w.ElapsedMilliseconds;
        var sound = trial.Sound(run);
        var t2 = w.ElapsedMilliseconds;
        var trace = SoundSpeed.Follow(sound, trial.Rate, trial.Engine);
        var t3 = w.ElapsedMilliseconds;
        var errors = trace.Points.Select(p => 100 * Math.Abs(p.Rpm / run.Rpm(p.Seconds) - 1)).Order().ToArray();
        Console.WriteLine($"N={n} {scene.Name} {snr} len {run.Seconds:0} median {errors[errors.Length / 2]:0.000} p95 {errors[errors.Length * 95 / 100]:0.00} gross3 {100.0 * errors.Count(e => e > 3) / errors.Length:0.0} clear {trace.ClearShare:0.00} rival {trace.Rival} times {t1} {t2 - t1} {t3 - t2}");
        foreach (var h in trial.Plan.Held)
        {
            Console.Write($" {run.MeanRpm(h.From - 2, h.From - 0.1) - run.MeanRpm(h.From + 1, h.To):0}");
        }
        Console.WriteLine();
        if (args.Length > 0) foreach (var p in trace.Points.Where((_, i) => i % 4 == 0)) Console.WriteLine($"{p.Seconds:0.00}\t{run.Rpm(p.Seconds):0}\t{p.Rpm:0}\t{p.Confidence:0.00}");
    }
}
