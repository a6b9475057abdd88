using BenchmarkDotNet.Attributes;
using ShopDiag.Signals.Cancellations;
using ShopDiag.Signals.Live;
using ShopDiag.Signals.Measured.Engines;
using ShopDiag.Signals.Measured.Noise;
using ShopDiag.Signals.Measured.Tables;
using ShopDiag.Signals.Speed;

namespace ShopDiag.Benchmarks;

/// <summary>A minute of sound at 44.1 kHz, 16 bits: from the file to the drops, and the same as it comes in live (600 blocks of a tenth of a second).</summary>
[ShortRunJob]
public class ListeningBenchmarks
{
    private const int Rate = 44100;
    private byte[] _file = [];
    private float[] _sound = [];
    private EngineToHear _engine = null!;

    [Params(4, 8)]
    public int Cylinders { get; set; }

    [GlobalSetup]
    public void SetUp()
    {
        var trial = new Trial(Cylinders, 750, Scene.Shop, 10, 8) { Rate = Rate, Plan = EnginePlan.Balance(Cylinders, 750, 8) with { Seconds = 60 } };
        _sound = trial.Sound(trial.Run());
        (_file, _engine) = (WavFile.Of(_sound, Rate), trial.Engine);
    }

    [Benchmark]
    public BalanceRun FileToDrops() =>
        CancellationFinder.Find(SoundSpeed.Read(new MemoryStream(_file), _engine).Value, new() { Cylinders = Cylinders });

    [Benchmark]
    public int Live()
    {
        var live = new LiveSpeed(_engine, Rate);
        var points = 0;
        for (var at = 0; at < _sound.Length; at += Rate / 10)
        {
            points += live.Feed(_sound.AsSpan(at, Math.Min(Rate / 10, _sound.Length - at))).Count;
        }

        return points;
    }
}
