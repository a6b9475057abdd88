using System.Text.Json;
using ShopDiag.Diagnosis.Engines;

namespace ShopDiag.Diagnosis.Learning;

/// <summary>
/// Engines that are counted together when the shop's own cases are looked at: same layout, ignition and injection. These three decide which causes
/// there can be and how hard each part's life is; firing order and access do not. Common practice: no published grouping exists.
/// </summary>
/// <param name="Layout">Layout id in capitals, such as <c>V6</c>; empty where the engine's description names none.</param>
/// <param name="Ignition">How the spark is made.</param>
/// <param name="Injection">Where the fuel goes in.</param>
public sealed record EngineFamily(string Layout, Ignition Ignition, Injection Injection)
{
    /// <summary>Stable text that stands for the family in files: <c>coil-on-plug/port/V6</c>.</summary>
    public string Id => $"{Word(Ignition)}/{Word(Injection)}/{Layout}";

    /// <summary>The family of an engine.</summary>
    public static EngineFamily Of(EngineSpec engine)
    {
        ArgumentNullException.ThrowIfNull(engine);
        return new(engine.Layout.Trim().ToUpperInvariant(), engine.Ignition, engine.Injection);
    }

    /// <summary>Reads <see cref="Id"/> back; null for any other text.</summary>
    public static EngineFamily? Read(string id)
    {
        ArgumentNullException.ThrowIfNull(id);
        return id.Split('/', 3) is [var ignition, var injection, var layout] && Find<Ignition>(ignition) is { } spark && Find<Injection>(injection) is { } fuel
            ? new(layout, spark, fuel)
            : null;
    }

    private static T? Find<T>(string word)
        where T : struct, Enum
    {
        var found = Enum.GetValues<T>().Where(v => Word(v) == word).ToArray();
        return found is [var one] ? one : null;
    }

    private static string Word<T>(T value)
        where T : struct, Enum => JsonNamingPolicy.KebabCaseLower.ConvertName(value.ToString());
}
