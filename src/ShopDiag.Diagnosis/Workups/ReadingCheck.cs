using ShopDiag.Diagnosis.BenchTests;
using ShopDiag.Diagnosis.Engines;

namespace ShopDiag.Diagnosis.Workups;

/// <summary>Checks a reading against its test's field list before it counts.</summary>
public static class ReadingCheck
{
    /// <summary>What makes the reading impossible (a path such as <c>value.kPa</c> and what is allowed), or null.</summary>
    public static InputError? Error(Reading reading, BenchTest test, Engine engine) => throw new NotImplementedException();

    /// <summary>What is unlikely about it and asked about once, in plain words, or null.</summary>
    public static string? Doubt(Reading reading, BenchTest test) => throw new NotImplementedException();
}
