using System.Globalization;
using ShopDiag.Comebacks.Figures;
using ShopDiag.Comebacks.Wire;

namespace ShopDiag.Web.Owner;

/// <summary>What is asked stands in the address, so that it can be kept and found again.</summary>
public static class OwnerLinks
{
    /// <summary>A path with what is asked.</summary>
    public static string To(string path, OwnerAsks asks)
    {
        ArgumentNullException.ThrowIfNull(asks);
        var more = (asks.From is null ? "" : $"&from={Day(asks.From)}") + (asks.To is null ? "" : $"&to={Day(asks.To)}") + (asks.OverDistance ? "&over=distance" : "");
        return $"{path}?by={OwnerFiguresJson.Word(asks.By)}{more}{(asks.Technician is null ? "" : $"&who={Uri.EscapeDataString(asks.Technician)}")}";
    }

    /// <summary>What is asked, from the words of an address; what is not known counts as not said.</summary>
    public static OwnerAsks Read(string? by, string? from, string? to, string? who, string? over) =>
        new(OwnerFiguresJson.Read(by ?? "") ?? Grouping.Diagnosis, Day(from), Day(to), string.IsNullOrWhiteSpace(who) ? null : who, over == "distance");

    /// <summary>A day as an address and a date field have it.</summary>
    public static string? Day(DateOnly? day) => day?.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture);

    /// <summary>A day from a text; null for none.</summary>
    public static DateOnly? Day(string? text) => DateOnly.TryParseExact(text, "yyyy-MM-dd", CultureInfo.InvariantCulture, DateTimeStyles.None, out var day) ? day : null;
}
