using System.Globalization;
using ShopDiag.Diagnosis;

namespace ShopDiag.Web.Components.WorkupViews;

/// <summary>Places in words and in keys.</summary>
public static class PlaceWords
{
    /// <summary>A place at the beginning of a line: <c>Cylinder 4</c>.</summary>
    public static string Title(Place place)
    {
        var words = place.ToString();
        return place.Kind == PlaceKind.Engine ? "Whole engine" : char.ToUpperInvariant(words[0]) + words[1..];
    }

    /// <summary>A place in a key: <c>c4</c>, <c>b2</c>, <c>p4-6</c>, <c>e</c>. Keys stay on tablets: they never change.</summary>
    public static string Key(Place place) => place.Kind switch
    {
        PlaceKind.Engine => "e",
        PlaceKind.Bank => string.Create(CultureInfo.InvariantCulture, $"b{place.First}"),
        PlaceKind.Pair => string.Create(CultureInfo.InvariantCulture, $"p{place.First}-{place.Second}"),
        PlaceKind.Cylinder => string.Create(CultureInfo.InvariantCulture, $"c{place.First}"),
        _ => throw new InvalidOperationException($"Unknown kind of place {place.Kind}."),
    };

    /// <summary>Reads <see cref="Key"/> back; null for anything else.</summary>
    public static Place? Read(string key)
    {
        ArgumentNullException.ThrowIfNull(key);
        if (key == "e")
        {
            return Place.Engine;
        }

        var numbers = key.Length < 2 ? [] : key[1..].Split('-').Select(Number).ToArray();
        return (key.Length > 0 ? key[0] : ' ', numbers) switch
        {
            ('c', [> 0 and var c]) => Place.Cylinder(c),
            ('b', [> 0 and var b]) => Place.Bank(b),
            ('p', [> 0 and var one, > 0 and var other]) when one != other => Place.Pair(one, other),
            _ => null,
        };
    }

    private static int Number(string text) =>
        int.TryParse(text, NumberStyles.None, CultureInfo.InvariantCulture, out var number) ? number : 0;
}
