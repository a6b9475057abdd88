using System.Collections.Immutable;

namespace ShopDiag.Diagnosis.BenchTests;

/// <summary>Every evaluation by name.</summary>
public static class Evaluations
{
    /// <summary>By the name that <c>test.json</c> calls it by.</summary>
    public static ImmutableDictionary<string, ITestEvaluation> All { get; } = ImmutableDictionary<string, ITestEvaluation>.Empty;
}
