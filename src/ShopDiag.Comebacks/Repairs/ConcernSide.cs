using System.Collections.Immutable;
using System.Globalization;
using ShopDiag.Diagnosis;
using ShopDiag.Diagnosis.Vehicles;

namespace ShopDiag.Comebacks.Repairs;

/// <summary>What one order says about its trouble, in the form in which two are compared.</summary>
internal sealed class ConcernSide
{
    /// <summary>
    /// Words that stand in half of all concerns and tell nothing apart, in English; words under four letters do not count at all. Common practice.
    /// </summary>
    private static readonly HashSet<string> Everyday = new(StringComparer.Ordinal)
    {
        "about", "after", "again", "also", "been", "before", "came", "check", "comes", "customer", "does", "driving", "engine", "from", "have", "into", "just", "light",
        "like", "misfire", "misfires", "only", "over", "says", "sometimes", "states", "still", "than", "that", "them", "then", "there", "they", "this", "vehicle", "very",
        "when", "while", "will", "with",
    };

    private ConcernSide(IEnumerable<Place> places, ImmutableArray<string> codes, ImmutableArray<string> when, string text)
    {
        var read = codes.Select(TroubleCode.Parse).Where(c => c.IsValid).Select(c => c.Value).ToArray();
        var all = places.ToArray();
        Cylinders =
        [
            .. all.Where(p => p.Kind is PlaceKind.Cylinder or PlaceKind.Pair).SelectMany(p => new[] { p.First, p.Second }).Where(c => c > 0),
            .. read.Select(c => c.MisfireCylinder ?? c.InjectorCylinder).OfType<int>(),
        ];
        Banks = [.. all.Where(p => p.Kind == PlaceKind.Bank).Select(p => p.First)];
        Codes = [.. read.Where(c => !c.IsRandomMisfire).Select(c => c.Text)];
        General = read.Any(c => c.IsRandomMisfire);
        When = [.. when];
        Words = WordsOf(text);
    }

    /// <summary>Cylinders that were repaired, show the trouble or are named by a code.</summary>
    public ImmutableSortedSet<int> Cylinders { get; }

    /// <summary>Banks, likewise.</summary>
    public ImmutableSortedSet<int> Banks { get; }

    /// <summary>Codes but P0300.</summary>
    public ImmutableSortedSet<string> Codes { get; }

    /// <summary>True when P0300 is among them.</summary>
    public bool General { get; }

    /// <summary>Conditions.</summary>
    public ImmutableHashSet<string> When { get; }

    /// <summary>Telling words, lower case.</summary>
    public ImmutableSortedSet<string> Words { get; }

    public static ConcernSide Of(ArrivedOrder order) => new(order.Places, order.Codes, order.When, order.ConcernText);

    public static ConcernSide Of(RepairCase repair) => new(repair.Repaired.Select(r => r.At), repair.Codes, repair.When, repair.ConcernText);

    private static ImmutableSortedSet<string> WordsOf(string text)
    {
        var letters = string.Concat(text.ToLower(CultureInfo.InvariantCulture).Select(c => char.IsLetter(c) ? c : ' '));
        return [.. letters.Split(' ').Where(w => w.Length >= 4 && !Everyday.Contains(w))];
    }
}
