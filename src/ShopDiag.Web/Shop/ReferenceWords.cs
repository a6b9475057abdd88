using ShopDiag.Diagnosis;
using ShopDiag.Diagnosis.BenchTests;
using ShopDiag.Diagnosis.Causes;
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

    /// <summary>Labour time: in minutes below two hours, in half hours above.</summary>
    public static string Labour(double minutes) => minutes < 120
        ? $"{NumberText.Write(minutes, 0)} minutes"
        : $"{NumberText.Write(Math.Round(minutes / 30, MidpointRounding.AwayFromZero) / 2, 1)} hours";

    /// <summary>How the spark is made.</summary>
    public static string Of(Ignition ignition) => ignition switch
    {
        Ignition.CoilOnPlug => "coil on plug",
        Ignition.WasteSpark => "waste spark (one coil a pair)",
        Ignition.CoilNearPlug => "coil with a short lead",
        Ignition.Distributor => "distributor",
        _ => throw new InvalidOperationException($"Unknown ignition {ignition}."),
    };

    /// <summary>How the play of the valves is kept.</summary>
    public static string Of(ValveLash lash) => lash switch
    {
        ValveLash.Adjusted => "set with shims or screws",
        ValveLash.Hydraulic => "hydraulic, none to set",
        _ => "not known",
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
        Access.ValveCover => "valve cover off",
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

    /// <summary>Where a cause can sit.</summary>
    public static string Of(CauseScope scope) => scope switch
    {
        CauseScope.Cylinder => "one cylinder",
        CauseScope.Companions => "two companion cylinders",
        CauseScope.Neighbours => "two neighbours on a bank",
        CauseScope.Bank => "a bank",
        CauseScope.Engine => "the whole engine",
        _ => throw new InvalidOperationException($"Unknown scope {scope}."),
    };

    /// <summary>Where a reading stands, seen from the cause.</summary>
    public static string Of(Relation relation) => relation switch
    {
        Relation.Here => "there",
        Relation.Companion => "at the companion cylinder",
        Relation.Neighbour => "at a neighbour on the bank",
        Relation.SameBank => "elsewhere on the bank",
        Relation.Engine => "at the engine",
        Relation.Elsewhere => "anywhere else",
        _ => throw new InvalidOperationException($"Unknown relation {relation}."),
    };

    /// <summary>How many of a part.</summary>
    public static string Of(PartCount count) => count switch
    {
        PartCount.One => "one",
        PartCount.PerCylinder => "one for each cylinder concerned",
        PartCount.WholeSet => "a set for the engine",
        PartCount.PerBank => "one for each bank concerned",
        _ => throw new InvalidOperationException($"Unknown count {count}."),
    };

    /// <summary>Outcomes of a test in its own words, as one of them: <c>weak or none</c>.</summary>
    public static string Outcomes(Knowledge knowledge, OutcomeAt at)
    {
        ArgumentNullException.ThrowIfNull(knowledge);
        ArgumentNullException.ThrowIfNull(at);
        var found = knowledge.Aspect(at.Test);
        return string.Join(" or ", at.Outcomes.Select(o => found?.Aspect.Outcomes.FirstOrDefault(a => a.Id == o)?.Word ?? o));
    }

    /// <summary>The test that an aspect belongs to, with the side of it where it has several.</summary>
    public static string Aspect(Knowledge knowledge, string aspect)
    {
        ArgumentNullException.ThrowIfNull(knowledge);
        return knowledge.Aspect(aspect) is { } found ? found.Test.Title : aspect;
    }
}
