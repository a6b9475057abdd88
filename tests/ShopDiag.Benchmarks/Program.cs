using BenchmarkDotNet.Running;

BenchmarkSwitcher.FromAssembly(typeof(ShopDiag.Benchmarks.AssessmentBenchmarks).Assembly).Run(args);
