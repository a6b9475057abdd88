using System.Globalization;

namespace ShopDiag.Diagnosis;

/// <summary>The four kinds of place a reading is taken at and a cause sits at.</summary>
public enum PlaceKind
{
    /// <summary>The whole engine.</summary>
    Engine,

    /// <summary>One bank, numbered from 1 in the order of the engine's bank list.</summary>
    Bank,

    /// <summary>Two cylinders that belong together: companions in the firing order or neighbours on a bank.</summary>
    Pair,

    /// <summary>One cylinder.</summary>
    Cylinder,
}

/// <summary>
/// Where on an engine: one cylinder, a pair of cylinders, a bank or the whole engine.
/// Two places are equal when they name the same cylinders; a pair is stored with its lower number first.
/// </summary>
public readonly record struct Place : IComparable<Place>
{
    private Place(PlaceKind kind, int first, int second) => (Kind, First, Second) = (kind, first, second);

    /// <summary>The kind of place. The default value of this type is the whole engine.</summary>
    public PlaceKind Kind { get; }

    /// <summary>The cylinder, the bank, or the pair's lower cylinder; 0 for the engine.</summary>
    public int First { get; }

    /// <summary>The pair's higher cylinder; 0 otherwise.</summary>
    public int Second { get; }

    /// <summary>The whole engine.</summary>
    public static Place Engine => default;

    /// <summary>One cylinder, 1 to 16.</summary>
    public static Place Cylinder(int cylinder) => new(PlaceKind.Cylinder, Positive(cylinder), 0);

    /// <summary>One bank, numbered from 1.</summary>
    public static Place Bank(int bank) => new(PlaceKind.Bank, Positive(bank), 0);

    /// <summary>Two different cylinders, in either order.</summary>
    public static Place Pair(int one, int other) => one == other
        ? throw new ArgumentException("A pair needs two different cylinders.", nameof(other))
        : new(PlaceKind.Pair, Positive(Math.Min(one, other)), Positive(Math.Max(one, other)));

    /// <inheritdoc/>
    public int CompareTo(Place other) =>
        (Kind, First, Second).CompareTo((other.Kind, other.First, other.Second));

    /// <summary>In words: <c>cylinder 4</c>, <c>cylinders 4 and 6</c>, <c>bank 2</c>, <c>the engine</c>.</summary>
    public override string ToString() => Kind switch
    {
        PlaceKind.Engine => "the engine",
        PlaceKind.Bank => string.Create(CultureInfo.InvariantCulture, $"bank {First}"),
        PlaceKind.Pair => string.Create(CultureInfo.InvariantCulture, $"cylinders {First} and {Second}"),
        PlaceKind.Cylinder => string.Create(CultureInfo.InvariantCulture, $"cylinder {First}"),
        _ => throw new InvalidOperationException($"Unknown kind of place {Kind}."),
    };

    /// <summary>The place that <see cref="ToString"/> puts in these words, without regard to case and spaces around; null for other words.</summary>
    public static Place? FromWords(string words)
    {
        ArgumentNullException.ThrowIfNull(words);
        return words.ToLowerInvariant().Split(' ', StringSplitOptions.RemoveEmptyEntries) switch
        {
            ["the", "engine"] => Engine,
            ["bank", var bank] when Number(bank) is { } number => Bank(number),
            ["cylinder", var cylinder] when Number(cylinder) is { } number => Cylinder(number),
            ["cylinders", var one, "and", var other] when Number(one) is { } first && Number(other) is { } second && first != second => Pair(first, second),
            _ => null,
        };
    }

    /// <summary>Before another place in order: engine, banks, pairs, cylinders, each by number.</summary>
    public static bool operator <(Place left, Place right) => left.CompareTo(right) < 0;

    /// <summary>Not after another place.</summary>
    public static bool operator <=(Place left, Place right) => left.CompareTo(right) <= 0;

    /// <summary>After another place.</summary>
    public static bool operator >(Place left, Place right) => left.CompareTo(right) > 0;

    /// <summary>Not before another place.</summary>
    public static bool operator >=(Place left, Place right) => left.CompareTo(right) >= 0;

    private static int? Number(string text) =>
        int.TryParse(text, NumberStyles.None, CultureInfo.InvariantCulture, out var number) && number >= 1 ? number : null;

    private static int Positive(int number) => number >= 1
        ? number
        : throw new ArgumentOutOfRangeException(nameof(number), number, "Cylinders and banks are numbered from 1.");
}
