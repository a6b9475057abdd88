using BenchmarkDotNet.Running;
using ShopDiag.Benchmarks;

if (args is ["waveform"])
{
    return WaveformReading.Run();
}

BenchmarkSwitcher.FromAssembly(typeof(AssessmentBenchmarks).Assembly).Run(args);
return 0;
