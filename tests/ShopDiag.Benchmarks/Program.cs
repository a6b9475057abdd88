using BenchmarkDotNet.Running;
using ShopDiag.Benchmarks;

if (args is ["waveform"])
{
    return WaveformReading.Run();
}

if (args is ["shop", ..])
{
    return await LargeShop.RunAsync(args.ElementAtOrDefault(1));
}

BenchmarkSwitcher.FromAssembly(typeof(AssessmentBenchmarks).Assembly).Run(args);
return 0;
