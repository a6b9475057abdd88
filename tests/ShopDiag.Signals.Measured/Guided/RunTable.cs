using ShopDiag.Signals.Cancellations;
using ShopDiag.Signals.Guided;
using ShopDiag.Signals.Measured.Noise;
using ShopDiag.Signals.Speed;

namespace ShopDiag.Signals.Measured.Guided;

/// <summary>Whole guided runs, rehearsed: does the guide get through by itself, and are the cylinders told rightly afterwards? One cylinder is dead (even seeds) or half as strong.</summary>
internal static class RunTable
{
    private const double Idle = 750;

    /// <summary>A drop below this share of the others is called dead (43 %, Lincoln 1991), one below the other weak (65 %).</summary>
    private const double Dead = 0.43;

    private const double Weak = 0.65;

    /// <summary>Prints a row for each number of cylinders and scene.</summary>
    public static void Print(Options options, TextWriter output)
    {
        output.WriteLine("| noise, 10 dB | cylinders | runs | went through by themselves | turns | told rightly | open, to be taken again | told wrongly |");
        output.WriteLine("|---|---:|---:|---:|---:|---:|---:|---:|");
        foreach (var scene in new[] { Scene.Clean, Scene.Shop })
        {
            foreach (var cylinders in options.Cylinders)
            {
                var runs = Enumerable.Range(options.First, options.Seeds).AsParallel().WithDegreeOfParallelism(options.Parallel).Select(seed => Play(cylinders, scene, seed)).ToArray();
                output.WriteLine(FormattableString.Invariant(
                    $"| {scene.Name} | {cylinders} | {runs.Length} | {runs.Count(r => r.Through)} | {runs.Length * cylinders} | {runs.Sum(r => r.Right)} | {runs.Sum(r => r.Open)} | {runs.Sum(r => r.Wrong)} |"));
            }
        }
    }

    private static (bool Through, int Right, int Open, int Wrong) Play(int cylinders, Scene scene, int seed)
    {
        var random = new Random(seed);
        var strength = Enumerable.Range(0, cylinders).Select(_ => 0.92 + (0.16 * random.NextDouble())).ToArray();
        var (odd, share) = (random.Next(cylinders), seed % 2 == 0 ? 0 : 0.5);
        strength[odd] = share;
        var run = new RehearsedRun
        {
            Plan = new() { Order = [.. Enumerable.Range(1, cylinders)], Listens = true }, Strength = strength, IdleRpm = Idle, RoughRpm = Idle * (0.9 + (0.2 * random.NextDouble())), Seed = seed,
            HandSeconds = 0.5 + random.NextDouble(), Scene = scene,
        };
        var (sound, guide, _) = run.Play();
        var trace = SoundSpeed.Follow(sound, run.Rate, EngineToHear.Create(cylinders, run.RoughRpm).Value);
        var found = CancellationFinder.Find(trace, new() { Cylinders = cylinders, Times = [.. RehearsedRun.Times(guide)] });
        var told = found.Drops.Where(d => d is { Kind: DropKind.Heard or DropKind.NoDrop, Problem: null, Cylinder: not null }).ToDictionary(d => d.Cylinder!.Value);
        var healthy = told.Count == 0 ? 1 : told.Values.Select(d => d.Drop).Order().ElementAt(told.Count / 2);
        var right = told.Count(d => Verdict(d.Value.Drop / healthy) == (d.Key - 1 != odd ? 2 : share == 0 ? 0 : 1));
        return (guide.Phase == RunPhase.Done, right, cylinders - told.Count, told.Count - right);
    }

    private static int Verdict(double share) => share < Dead ? 0 : share < Weak ? 1 : 2;
}
