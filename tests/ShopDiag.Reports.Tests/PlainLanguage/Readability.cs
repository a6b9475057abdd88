using System.Text.RegularExpressions;

namespace ShopDiag.Reports.Tests.PlainLanguage;

/// <summary>
/// The Flesch-Kincaid grade: the year of an American school at which a text is understood.
/// Kincaid, Fishburne, Rogers and Chissom, "Derivation of New Readability Formulas (Automated Readability Index, Fog Count and Flesch
/// Reading Ease Formula) for Navy Enlisted Personnel", Research Branch Report 8-75, Naval Technical Training, Memphis 1975.
/// </summary>
public static partial class Readability
{
    /// <summary>0.39 words a sentence + 11.8 syllables a word - 15.59, over all sentences together.</summary>
    public static double Grade(IReadOnlyCollection<string> sentences)
    {
        var words = sentences.SelectMany(Words).ToList();
        return (0.39 * words.Count / sentences.Count) + (11.8 * words.Sum(Syllables.In) / words.Count) - 15.59;
    }

    /// <summary>The sentences of a text: a semicolon or a colon does not end one.</summary>
    public static IEnumerable<string> Sentences(string text) => SentenceEnd().Split(text).Where(s => s.Length > 0);

    /// <summary>The words of a sentence: letters and digits; the halves of a hyphenated word count as two.</summary>
    public static IEnumerable<string> Words(string sentence) => Word().Matches(sentence).Select(m => m.Value);

    [GeneratedRegex(@"(?<=[.!?])\s+")]
    private static partial Regex SentenceEnd();

    [GeneratedRegex(@"[\p{L}\d]+(?:['’]\p{L}+)*")]
    private static partial Regex Word();
}
