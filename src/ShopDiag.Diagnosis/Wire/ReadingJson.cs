using System.Text.Json;
using ShopDiag.Diagnosis.BenchTests;
using ShopDiag.Diagnosis.Engines;

namespace ShopDiag.Diagnosis.Wire;

/// <summary>Readings as they travel and as they are kept.</summary>
public static class ReadingJson
{
    /// <summary>Reads one reading of a workup line. The error's path starts inside the reading.</summary>
    public static Parsed<Reading> Read(JsonElement json, Engine engine, Knowledge knowledge) => throw new NotImplementedException();

    /// <summary>A value as JSON text with the fields of its test, in field order. Kept and sent in this form.</summary>
    public static string WriteValue(ReadingValue value, BenchTest test) => throw new NotImplementedException();

    /// <summary>Reads what <see cref="WriteValue"/> wrote; checks the fields' kinds, not their ranges.</summary>
    public static Parsed<ReadingValue> ReadValue(JsonElement json, BenchTest test) => throw new NotImplementedException();
}
