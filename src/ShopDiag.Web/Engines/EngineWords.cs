using System.Globalization;
using ShopDiag.Diagnosis.Engines;
using ShopDiag.Web.Shop;

namespace ShopDiag.Web.Engines;

/// <summary>An engine in words.</summary>
public static class EngineWords
{
    /// <summary><c>Fires 1-3-4-2; companions 1 and 4, 2 and 3</c>.</summary>
    public static string Firing(Engine engine)
    {
        ArgumentNullException.ThrowIfNull(engine);
        var pairs = engine.CompanionPairs.Select(p => $"{p.First} and {p.Second}");
        return $"Fires {Dashed(engine.FiringOrder)}; " + (engine.CompanionPairs.IsEmpty ? "no companion cylinders" : "companions " + string.Join(", ", pairs));
    }

    /// <summary><c>coil on plug, port injection</c>.</summary>
    public static string Systems(Engine engine)
    {
        ArgumentNullException.ThrowIfNull(engine);
        return $"{ReferenceWords.Of(engine.Ignition)}, {ReferenceWords.Of(engine.Injection)}{(engine.Spec.Hybrid ? ", hybrid" : "")}";
    }

    /// <summary>Cylinders as the trade writes a firing order.</summary>
    public static string Dashed(IEnumerable<int> cylinders) => string.Join('-', cylinders.Select(c => c.ToString(CultureInfo.InvariantCulture)));

    /// <summary>The generic engines in which every word asked for occurs, in the title, the layout or the firing order.</summary>
    public static IEnumerable<EngineProfile> Search(IEnumerable<EngineProfile> profiles, string text)
    {
        ArgumentNullException.ThrowIfNull(text);
        var words = text.Split([' ', ','], StringSplitOptions.RemoveEmptyEntries);
        return profiles.Where(p => words.All(w => Haystack(p).Contains(w, StringComparison.OrdinalIgnoreCase)));
    }

    private static string Haystack(EngineProfile profile) =>
        $"{profile.Title} {profile.Spec.Layout} {Dashed(profile.Spec.FiringOrder)} {string.Concat(profile.Spec.FiringOrder)} {profile.Spec.FiringOrder.Length} cylinders";
}
