using System.Text;
using UglyToad.PdfPig;
using UglyToad.PdfPig.Content;
using UglyToad.PdfPig.Core;
using UglyToad.PdfPig.Tokens;

namespace ShopDiag.Reports.Tests;

/// <summary>A PDF read back by another library: its text, and its structure as a screen reader meets it.</summary>
public sealed class ReadPdf : IDisposable
{
    private readonly PdfDocument _document;
    private readonly Lazy<Element> _root;
    private readonly Dictionary<(IndirectReference Page, int Mcid), string> _marked = [];

    public ReadPdf(byte[] bytes)
    {
        Raw = Encoding.Latin1.GetString(bytes);
        _document = PdfDocument.Open(bytes);
        Pages = [.. _document.GetPages()];
        PageTexts = [.. Pages.Select(TextOf)];
        _root = new Lazy<Element>(ReadStructure);
    }

    public string Raw { get; }

    public IReadOnlyList<Page> Pages { get; }

    /// <summary>The text of each page in the order it is drawn, words a blank apart.</summary>
    public IReadOnlyList<string> PageTexts { get; }

    public string Text => string.Join(" ", PageTexts);

    /// <summary>The whole document in reading order.</summary>
    public Element Root => _root.Value;

    public DocumentInformation Information => _document.Information;

    public DictionaryToken Catalog => _document.Structure.Catalog.CatalogDictionary;

    public IReadOnlyList<string> Bookmarks => _document.TryGetBookmarks(out var bookmarks)
        ? [.. bookmarks.GetNodes().Select(node => $"{node.Level} {node.Title}")]
        : [];

    public string Metadata => _document.TryGetXmpMetadata(out var xmp) ? Encoding.UTF8.GetString(xmp.GetXmlBytes()) : "";

    public T Resolve<T>(IToken token)
        where T : class, IToken => token as T ?? (T)_document.Structure.GetObject(((IndirectReferenceToken)token).Data).Data;

    public void Dispose() => _document.Dispose();

    /// <summary>One element of the structure.</summary>
    public sealed record Element(string Tag, string OwnText, string? Alternative, string? Scope, int ColumnSpan, IReadOnlyList<Element> Children)
    {
        /// <summary>This element and all below it, in reading order.</summary>
        public IEnumerable<Element> All => new[] { this }.Concat(Children.SelectMany(c => c.All));

        /// <summary>What is read out.</summary>
        public string Text => OwnText + string.Concat(Children.Select(c => c.Text));

        public IEnumerable<Element> Tagged(string tag) => All.Where(e => e.Tag == tag);
    }

    private static string TextOf(Page page)
    {
        var text = new StringBuilder();
        Letter? last = null;
        foreach (var letter in page.Letters)
        {
            if (last is not null && (Math.Abs(letter.StartBaseLine.Y - last.EndBaseLine.Y) > 1 || letter.StartBaseLine.X - last.EndBaseLine.X > 1))
            {
                text.Append(' ');
            }

            text.Append(letter.Value);
            last = letter;
        }

        return string.Join(' ', text.ToString().Split(' ', StringSplitOptions.RemoveEmptyEntries));
    }

    private Element ReadStructure()
    {
        var pageNodes = PageReferences().ToList();
        for (var p = 0; p < Pages.Count; p++)
        {
            foreach (var content in Pages[p].GetMarkedContents().Where(c => c.MarkedContentIdentifier >= 0))
            {
                _marked[(pageNodes[p], content.MarkedContentIdentifier)] = string.Concat(content.Letters.Select(l => l.Value));
            }
        }

        var root = Resolve<DictionaryToken>(Catalog.Data["StructTreeRoot"]);
        return Read(Resolve<DictionaryToken>(root.Data["K"] is ArrayToken kids ? kids[0] : root.Data["K"]), default);
    }

    private IEnumerable<IndirectReference> PageReferences() => Leaves(Resolve<DictionaryToken>(Catalog.Data["Pages"]));

    private IEnumerable<IndirectReference> Leaves(DictionaryToken node) => Resolve<ArrayToken>(node.Data["Kids"]).Data.SelectMany(kid =>
    {
        var dictionary = Resolve<DictionaryToken>(kid);
        return dictionary.Data.ContainsKey("Kids") ? Leaves(dictionary) : [((IndirectReferenceToken)kid).Data];
    });

    private Element Read(DictionaryToken node, IndirectReference page)
    {
        if (node.Data.TryGetValue("Pg", out var own))
        {
            page = ((IndirectReferenceToken)own).Data;
        }

        var children = new List<Element>();
        var text = new StringBuilder();
        foreach (var kid in Kids(node))
        {
            switch (kid)
            {
                case NumericToken mcid:
                    text.Append(_marked.GetValueOrDefault((page, mcid.Int)));
                    break;
                case DictionaryToken reference when reference.Data.TryGetValue("MCID", out var mcid):
                    text.Append(_marked.GetValueOrDefault((((IndirectReferenceToken)reference.Data["Pg"]).Data, ((NumericToken)mcid).Int)));
                    break;
                case DictionaryToken child:
                    children.Add(Read(child, page));
                    break;
                default:
                    throw new InvalidOperationException($"Unexpected child {kid} in the structure.");
            }
        }

        var attributes = node.Data.TryGetValue("A", out var a) ? Resolve<DictionaryToken>(a is ArrayToken array ? array[0] : a) : null;
        return new Element(
            ((NameToken)node.Data["S"]).Data,
            text.ToString(),
            node.Data.TryGetValue("Alt", out var alternative) ? TextOf(alternative) : null,
            attributes is not null && attributes.Data.TryGetValue("Scope", out var scope) ? ((NameToken)scope).Data : null,
            attributes is not null && attributes.Data.TryGetValue("ColSpan", out var span) ? ((NumericToken)span).Int : 1,
            children);
    }

    private IEnumerable<IToken> Kids(DictionaryToken node)
    {
        if (!node.Data.TryGetValue("K", out var kids))
        {
            return [];
        }

        if (kids is IndirectReferenceToken reference)
        {
            kids = _document.Structure.GetObject(reference.Data).Data;
        }

        return kids is ArrayToken array
            ? array.Data.Select(kid => kid is IndirectReferenceToken r ? _document.Structure.GetObject(r.Data).Data : kid)
            : [kids];
    }

    private string TextOf(IToken token) => token switch
    {
        StringToken text => text.Data,
        HexToken hex => hex.Data,
        IndirectReferenceToken reference => TextOf(_document.Structure.GetObject(reference.Data).Data),
        _ => throw new InvalidOperationException($"Unexpected text {token}."),
    };
}
