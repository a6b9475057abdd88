using System.Globalization;
using System.Text;

namespace ShopDiag.Storage.Rows;

/// <summary>
/// How text is compared when somebody looks for something. The same two functions run here and, registered on every
/// connection, inside SQLite, whose own LIKE ignores case for A to Z only.
/// </summary>
internal static class SearchText
{
    /// <summary>Name of <see cref="Fold"/> in SQL.</summary>
    public const string FoldFunction = "shop_fold";

    /// <summary>Name of <see cref="Key"/> in SQL.</summary>
    public const string KeyFunction = "shop_key";

    /// <summary>Lower case without accents, blanks run together: <c>Müller  Øst</c> becomes <c>muller ost</c>.</summary>
    public static string Fold(string text)
    {
        var folded = new StringBuilder(text.Length);
        foreach (var c in PlainText.Clean(text).Normalize(NormalizationForm.FormKD))
        {
            if (char.IsWhiteSpace(c))
            {
                if (folded.Length > 0 && folded[^1] != ' ')
                {
                    folded.Append(' ');
                }
            }
            else if (CharUnicodeInfo.GetUnicodeCategory(c) is not UnicodeCategory.NonSpacingMark)
            {
                folded.Append(Plain(char.ToLowerInvariant(c)));
            }
        }

        return folded.ToString().TrimEnd();
    }

    /// <summary>Letters and digits only, folded: plates and VINs are written with blanks and hyphens or without.</summary>
    public static string Key(string text) => string.Concat(Fold(text).Where(char.IsLetterOrDigit));

    /// <summary>A LIKE pattern (escape character <c>\</c>) for text that holds this one, whatever signs are in it.</summary>
    public static string Holds(string text) =>
        "%" + text.Replace(@"\", @"\\", StringComparison.Ordinal).Replace("%", @"\%", StringComparison.Ordinal).Replace("_", @"\_", StringComparison.Ordinal) + "%";

    /// <summary>Letters that Unicode does not take apart into a base letter and a mark.</summary>
    private static string Plain(char c) => c switch
    {
        'ß' => "ss",
        'æ' => "ae",
        'œ' => "oe",
        'ø' => "o",
        'đ' or 'ð' => "d",
        'ł' => "l",
        'þ' => "th",
        'ı' => "i",
        _ => c.ToString(),
    };
}
