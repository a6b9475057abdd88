using System.Globalization;
using ShopDiag.Diagnosis.Learning;

namespace ShopDiag.Web.Shop;

/// <summary>Learned priors in words. The bounds are ours (common practice: none is published) and are checked by tests.</summary>
public static class LearningWords
{
    private const double Same = 1.05;
    private const double Little = 1.3;
    private const double Clearly = 2;

    /// <summary>A share of all misfires: whole percent, tenths below ten: <c>14 %</c>, <c>3.0 %</c>, <c>under 0.1 %</c>.</summary>
    public static string Share(double share) => share < 0.0005 ? "under 0.1 %" : Math.Round(share * 100, share < 0.0995 ? 1 : 0, MidpointRounding.AwayFromZero).ToString(share < 0.0995 ? "0.0" : "0", CultureInfo.InvariantCulture) + " %";

    /// <summary>What the shop's cases did to a cause.</summary>
    public static string Change(LearnedCause cause)
    {
        ArgumentNullException.ThrowIfNull(cause);
        var times = cause.Learned / cause.Shipped;
        var (factor, more) = times >= 1 ? (times, "more") : (1 / times, "less");
        return factor switch
        {
            < Same => "as shipped",
            < Little => $"a little {more} common",
            < Clearly => $"clearly {more} common",
            _ when times > 1 => $"{NumberText.Write(factor, 1)} times as common",
            _ => $"{NumberText.Write(factor, 1)} times as rare",
        };
    }

    /// <summary>A family of engines: <c>V6, coil on plug, port injection</c>; all engines for none.</summary>
    public static string Of(EngineFamily? family) => family is null
        ? "all engines"
        : $"{(family.Layout.Length > 0 ? family.Layout : "layout not said")}, {ReferenceWords.Of(family.Ignition)}, {ReferenceWords.Of(family.Injection)}";

    /// <summary>A number of cases.</summary>
    public static string Cases(int cases) => cases == 1 ? "1 proven case" : string.Create(CultureInfo.InvariantCulture, $"{cases:#,0} proven cases");

    /// <summary>Where the priors on a workup come from, one line.</summary>
    public static string Source(LearnedPriors priors)
    {
        ArgumentNullException.ThrowIfNull(priors);
        return priors.ByFamily
            ? $"How common each cause is to begin with is learned from this shop: {Cases(priors.Cases)} on such engines ({Of(priors.Family)}), {Cases(priors.AllCases)} in all."
            : $"How common each cause is to begin with is learned from this shop: {Cases(priors.AllCases)} on all engines.";
    }
}
