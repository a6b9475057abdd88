namespace ShopDiag.VirtualCars.Cars.Garage.Bench;

/// <summary>What the computer remembers and what a drive shows. Numbers made-up.</summary>
internal static class TalkTests
{
    // Below this share nobody at the wheel feels it.
    private const double Felt = 0.035;

    private static readonly string[] Words = ["idle", "load", "cold", "hot", "wet"];

    /// <summary>Conditions under which it misfires on a drive with a meter on.</summary>
    public static Values Road(Visit visit)
    {
        var named = Duty.Conditions.Where(c => Shows(visit, c)).ToList();
        if (named.Count >= Words.Length - 1)
        {
            return new Values().Words("conditions", "always");
        }

        // What shakes from the road or the driveline is sometimes taken for a misfire.
        var words = named.Select(c => Words[(int)c]).ToArray();
        return new Values().Words("conditions", words.Length == 0 && visit.Shakes && visit.Dice.Chance(0.15) ? ["load"] : words);
    }

    private static bool Shows(Visit visit, Condition condition)
    {
        var share = visit.Engine.Cylinders.Max(c => visit.DutyOf(c)[condition]) * visit.Shop.Reach[condition];
        return share * visit.Dice.Factor(0.3) > Felt;
    }
}
