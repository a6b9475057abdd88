using ShopDiag.Diagnosis.BenchTests;
using ShopDiag.Diagnosis.Engines;

namespace ShopDiag.Web.Shop;

/// <summary>Ids of the knowledge in words for the screen.</summary>
public static class ReferenceWords
{
    /// <summary>A tool.</summary>
    public static string Tool(string id)
    {
        ArgumentException.ThrowIfNullOrEmpty(id);
        var words = id.Replace('-', ' ');
        return char.ToUpperInvariant(words[0]) + words[1..];
    }

    /// <summary>How the spark is made.</summary>
    public static string Of(Ignition ignition) => ignition switch
    {
        Ignition.CoilOnPlug => "coil on plug",
        Ignition.WasteSpark => "waste spark (one coil a pair)",
        Ignition.CoilNearPlug => "coil with a short lead",
        Ignition.Distributor => "distributor",
        _ => throw new InvalidOperationException($"Unknown ignition {ignition}."),
    };

    /// <summary>Where the fuel goes in.</summary>
    public static string Of(Injection injection) => injection switch
    {
        Injection.Port => "port injection",
        Injection.Direct => "direct injection",
        Injection.ThrottleBody => "throttle-body injection",
        _ => throw new InvalidOperationException($"Unknown injection {injection}."),
    };

    /// <summary>What must come off first.</summary>
    public static string Of(Access access) => access switch
    {
        Access.None => "nothing to take off",
        Access.Coils => "covers over the coils off",
        Access.PlugsOut => "spark plugs out",
        _ => throw new InvalidOperationException($"Unknown access {access}."),
    };

    /// <summary>Where one reading is taken.</summary>
    public static string Of(TestScope scope) => scope switch
    {
        TestScope.Cylinder => "one reading a cylinder",
        TestScope.Bank => "one reading a bank",
        TestScope.Engine => "one reading for the engine",
        _ => throw new InvalidOperationException($"Unknown scope {scope}."),
    };
}
