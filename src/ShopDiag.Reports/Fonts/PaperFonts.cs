using System.Text;
using PdfSharp.Fonts;

namespace ShopDiag.Reports.Fonts;

/// <summary>The typeface of all papers, IBM Plex Sans (SIL Open Font License, <c>OFL.txt</c> beside this file), embedded in the assembly.</summary>
internal static class PaperFonts
{
    /// <summary>The family's name for PDFsharp.</summary>
    public const string Family = "IBM Plex Sans";

    private const string RegularFile = "IBMPlexSans_400Regular.ttf";
    private const string BoldFile = "IBMPlexSans_700Bold.ttf";

    // PDFsharp keeps one resolver for the whole process and refuses another once a font is made: set exactly once, whoever comes first.
    private static readonly Lazy<EmbeddedFonts> Installed = new(() =>
    {
        var fonts = new EmbeddedFonts();
        GlobalFontSettings.FontResolver = fonts;
        return fonts;
    });

    /// <summary>Makes the typeface known to PDFsharp; harmless when repeated and from several threads.</summary>
    public static void Install() => _ = Installed.Value;

    /// <summary>True when both weights have a glyph for it.</summary>
    public static bool Covers(Rune rune) => Installed.Value.Covers(rune);

    private sealed class EmbeddedFonts : IFontResolver
    {
        private readonly Dictionary<string, byte[]> _files;
        private readonly CharacterMap[] _maps;

        public EmbeddedFonts()
        {
            _files = new[] { RegularFile, BoldFile }.ToDictionary(name => name, Load, StringComparer.Ordinal);
            _maps = [.. _files.Values.Select(file => new CharacterMap(file))];
        }

        public bool Covers(Rune rune) => _maps.All(map => map.Covers(rune));

        public FontResolverInfo ResolveTypeface(string familyName, bool bold, bool italic) => new(bold ? BoldFile : RegularFile);

        public byte[] GetFont(string faceName) => _files[faceName];

        private static byte[] Load(string name)
        {
            using var stream = typeof(PaperFonts).Assembly.GetManifestResourceStream(name)
                ?? throw new InvalidOperationException($"The font {name} is not embedded.");
            var bytes = new byte[stream.Length];
            stream.ReadExactly(bytes);
            return bytes;
        }
    }
}
