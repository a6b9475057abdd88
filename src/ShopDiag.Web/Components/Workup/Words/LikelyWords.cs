using System.Globalization;

namespace ShopDiag.Web.Components.WorkupViews;

/// <summary>Plain words for how likely a cause is. The bounds are ours (common practice: none is published) and are checked by tests.</summary>
public static class LikelyWords
{
    private static readonly (double From, string Word)[] Steps =
    [
        (0.95, "all but certain"),
        (0.75, "very likely"),
        (0.50, "more likely than not"),
        (0.25, "quite possible"),
        (0.10, "possible"),
        (0.03, "not likely"),
        (0.005, "unlikely"),
        (0, "all but ruled out"),
    ];

    /// <summary>The word for a probability from 0 to 1.</summary>
    public static string For(double probability) => Steps.First(s => Math.Clamp(probability, 0, 1) >= s.From).Word;

    /// <summary>A probability as whole percent that never claims a certainty: <c>under 1 %</c>, <c>41 %</c>, <c>over 99 %</c>.</summary>
    public static string Percent(double probability) => probability switch
    {
        < 0.005 => "under 1 %",
        > 0.995 => "over 99 %",
        _ => Math.Round(probability * 100, MidpointRounding.AwayFromZero).ToString("0", CultureInfo.InvariantCulture) + " %",
    };

    /// <summary>How common something is to begin with: <c>about 1 in 24</c>; <c>about 1 in 2</c> and above in percent.</summary>
    public static string OneIn(double probability) => probability switch
    {
        <= 0 => "never",
        > 0.4 => "about " + Percent(probability),
        _ => "about 1 in " + Round(1 / probability).ToString("#,0", CultureInfo.InvariantCulture),
    };

    // Two figures carry all that a prior of the trade is worth.
    private static double Round(double number)
    {
        var step = Math.Pow(10, Math.Max(0, Math.Floor(Math.Log10(number)) - 1));
        return Math.Round(number / step, MidpointRounding.AwayFromZero) * step;
    }
}
