using System.Text;

namespace ShopDiag.Storage;

/// <summary>Text from outside, made fit to be kept: what a keyboard cannot mean is taken out, nothing else.</summary>
internal static class PlainText
{
    /// <summary>
    /// Composed Unicode without control characters (a NUL cuts a text short in many SQLite tools) and without halves of
    /// surrogate pairs (they come back from the database as something else, and a later comparison would see a conflict).
    /// Line ends become <c>\n</c>.
    /// </summary>
    public static string Clean(string text)
    {
        var clean = new StringBuilder(text.Length);
        for (var i = 0; i < text.Length; i++)
        {
            var c = text[i];
            if (char.IsHighSurrogate(c) && i + 1 < text.Length && char.IsLowSurrogate(text[i + 1]))
            {
                clean.Append(c).Append(text[++i]);
            }
            else if (char.IsSurrogate(c))
            {
                clean.Append('\uFFFD');
            }
            else if (c == '\r')
            {
                clean.Append(i + 1 < text.Length && text[i + 1] == '\n' ? "" : "\n");
            }
            else if (!char.IsControl(c) || c is '\n' or '\t')
            {
                clean.Append(c);
            }
        }

        return clean.ToString().Normalize(NormalizationForm.FormC);
    }

    /// <summary>Clean, on one line, without blanks around it.</summary>
    public static string Line(string text) => Clean(text).Replace('\n', ' ').Replace('\t', ' ').Trim();

    /// <summary>Clean, line ends kept, without blanks around it.</summary>
    public static string Lines(string text) => Clean(text).Trim();
}
