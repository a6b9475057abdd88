using System.Globalization;
using ShopDiag.Comebacks.Charts;
using ShopDiag.Storage.Shop;
using ShopDiag.Web.Shop;

namespace ShopDiag.Web.Owner;

/// <summary>Distances in the unit of the shop.</summary>
/// <param name="Unit">Its symbol.</param>
/// <param name="Axis">The axis of a curve over distance, with the distances at which the share still good is told.</param>
public sealed record OwnerDistances(string Unit, SurvivalAxis Axis)
{
    /// <summary>Those of a shop.</summary>
    public static OwnerDistances Of(ShopSettings settings)
    {
        var unit = ShopField.DistanceUnit(settings);
        return new(unit.Symbol, unit.Id == "mi" ? SurvivalAxis.Miles : SurvivalAxis.Kilometres);
    }

    /// <summary>Kilometres in words.</summary>
    public string Say(int kilometres) => string.Create(CultureInfo.InvariantCulture, $"{Math.Round(kilometres / Axis.InOne, MidpointRounding.AwayFromZero):#,0} {Unit}");
}
