using System.Collections.Immutable;
using System.Text.Json;
using ShopDiag.Diagnosis;

namespace ShopDiag.Storage.Photos;

/// <summary>A point on a picture, both from 0 to 1.</summary>
/// <param name="X">From the left edge (0) to the right (1).</param>
/// <param name="Y">From the upper edge (0) to the lower (1).</param>
public readonly record struct PhotoPoint(double X, double Y);

/// <summary>A line drawn on a picture: from point to point, at least one.</summary>
/// <param name="Points">In the order they were drawn.</param>
public sealed record PhotoStroke(ImmutableArray<PhotoPoint> Points);

/// <summary>
/// The marks on a photo as text: JSON, a list of strokes, each a flat list of x and y to a thousandth: <c>[[0.25,0.5,0.262,0.51]]</c>. <c>PhotoViewer.razor.js</c> writes the very same text,
/// so that what comes back from the database is what was sent.
/// </summary>
public static class PhotoMarks
{
    /// <summary>The text of a photo without marks.</summary>
    public const string None = "[]";

    /// <summary>
    /// Longest text, characters: about a thousand points, dozens of rings. A change carries the text before and after it, and a message to the server must stay below 32 kB.
    /// <c>PhotoViewer.razor.js</c> takes no further stroke before this is reached.
    /// </summary>
    public const int LongestText = 12_000;

    private const int Digits = 3;

    /// <summary>The strokes of a text, or what is wrong with it.</summary>
    public static Parsed<ImmutableArray<PhotoStroke>> Read(string text)
    {
        ArgumentNullException.ThrowIfNull(text);
        if (text.Length > LongestText)
        {
            return new InputError("", "A photo holds no more marks than this. Take some away.");
        }

        try
        {
            var strokes = JsonSerializer.Deserialize<double[][]>(text);
            return strokes is not null && Array.TrueForAll(strokes, IsStroke)
                ? ImmutableArray.CreateRange(strokes.Select(Stroke))
                : new InputError("", "These are no marks on a photo.");
        }
        catch (JsonException)
        {
            return new InputError("", "These are no marks on a photo.");
        }
    }

    /// <summary>The text of strokes.</summary>
    public static string Write(IEnumerable<PhotoStroke> strokes)
    {
        ArgumentNullException.ThrowIfNull(strokes);
        return JsonSerializer.Serialize(strokes.Select(s => s.Points.SelectMany(p => new[] { Rounded(p.X), Rounded(p.Y) })));
    }

    private static bool IsStroke(double[]? numbers) =>
        numbers is { Length: >= 2 } && numbers.Length % 2 == 0 && Array.TrueForAll(numbers, n => n is >= 0 and <= 1);

    private static PhotoStroke Stroke(double[] numbers) =>
        new([.. Enumerable.Range(0, numbers.Length / 2).Select(i => new PhotoPoint(Rounded(numbers[2 * i]), Rounded(numbers[(2 * i) + 1])))]);

    private static double Rounded(double value) => Math.Round(value, Digits, MidpointRounding.AwayFromZero);
}
