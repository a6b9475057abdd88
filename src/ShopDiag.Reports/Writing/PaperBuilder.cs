using PdfSharp.Pdf;
using ShopDiag.Reports.Layout;
using ShopDiag.Reports.Models;

namespace ShopDiag.Reports.Writing;

/// <summary>What a paper is called in its file and on its later pages.</summary>
/// <param name="Title">Title of the document.</param>
/// <param name="Shop">Author of the document, and its foot.</param>
/// <param name="Date">Date of the document: the file carries no other time.</param>
/// <param name="Language">Language of its words.</param>
internal sealed record PaperIdentity(string Title, ShopOnPaper Shop, DateOnly Date, string Language);

/// <summary>Collects the blocks of a paper and writes the file.</summary>
internal sealed class PaperBuilder : IDisposable
{
    private readonly List<Block> _blocks = [];
    private readonly PageGeometry _page;
    private readonly PaperIdentity _identity;

    /// <summary>Begins a paper with the shop's letterhead.</summary>
    public PaperBuilder(PaperIdentity identity, PaperSize paper)
    {
        _identity = identity;
        _page = PageGeometry.Of(paper);
        Letterhead(identity.Shop);
    }

    /// <summary>Measures.</summary>
    public Typesetter Set { get; } = new();

    /// <summary>Width of the text in points.</summary>
    public double Width => _page.TextWidth;

    /// <summary>Adds any block.</summary>
    public void Add(Block block) => _blocks.Add(block);

    /// <summary>Adds the paper's title.</summary>
    public void Title(string text) => Add(new Heading(text, 1, Set, Width));

    /// <summary>Adds a section's heading.</summary>
    public void Section(string text) => Add(new Heading(text, 2, Set, Width));

    /// <summary>Adds a paragraph, unless it is empty.</summary>
    public void Paragraph(string text, bool bold = false)
    {
        if (!string.IsNullOrWhiteSpace(text))
        {
            Add(new Paragraph([new Run(text, bold)], Set, Width));
        }
    }

    /// <summary>Adds a paragraph that begins with bold words.</summary>
    public void Paragraph(string lead, string text, bool bar = false) =>
        Add(new Paragraph([new Run(lead, Bold: true), new Run(text)], Set, Width, bar: bar));

    /// <summary>Adds a list, unless it is empty; items that say nothing are left out.</summary>
    public void Bullets(IEnumerable<string> items)
    {
        var said = items.Where(item => !string.IsNullOrWhiteSpace(item)).ToList();
        if (said.Count > 0)
        {
            Add(new Bullets(said.Select(item => new[] { new Run(item) }), Set, Width));
        }
    }

    /// <summary>Adds labels and values in two columns, the wider one first; pairs without a value are left out.</summary>
    public void KeyValues(IEnumerable<(string Label, string Value)> pairs)
    {
        double[] widths = [72, 232, 76];
        var cells = pairs.Where(p => !string.IsNullOrWhiteSpace(p.Value))
            .Select(p => new[] { Cell.Head(p.Label + ":", HeaderScope.Row), Cell.Of(p.Value) })
            .Chunk(2)
            .Select(row => row.Length == 2 ? [.. row[0], .. row[1]] : (Cell[])[.. row[0], Cell.Of("", span: 2)])
            .ToList();
        Add(new Table([.. widths, Width - widths.Sum()], null, cells, TableLook.Open, Set) { Before = 6 });
    }

    /// <summary>Says at the end what could not be printed, lays everything out and writes the file.</summary>
    public byte[] Write()
    {
        if (Set.Printable.Substituted > 0)
        {
            Add(new Paragraph([new Run("Some characters of the text cannot be printed in this typeface; each is shown as a question mark.")], Set, Width, Style.Table));
        }

        var furniture = new Furniture($"{_identity.Title}  |  {_identity.Shop.Name}", string.Join("  |  ", Said(_identity.Shop.Name, _identity.Shop.Phone)));
        var pages = Flow.Draw(_blocks, new Sheet(_page, new NoInk(), Set, furniture, pageCount: null));
        using var document = new PdfDocument();
        Describe(document);
        using (var ink = new PdfInk(document, Set, _identity.Language))
        {
            Flow.Draw(_blocks, new Sheet(_page, ink, Set, furniture, pages));
        }

        using var bytes = new MemoryStream();
        document.Save(bytes, closeStream: false);
        return bytes.ToArray();
    }

    /// <inheritdoc/>
    public void Dispose() => Set.Dispose();

    private void Letterhead(ShopOnPaper shop)
    {
        if (!string.IsNullOrWhiteSpace(shop.Name))
        {
            Add(new Paragraph([new Run(shop.Name, Bold: true)], Set, Width, 13) { Before = 0 });
        }

        var address = string.Join(", ", shop.Address.Split('\n', StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries));
        if (Said(address, shop.Phone) is { Count: > 0 } lines)
        {
            Add(new Paragraph([new Run(string.Join("  |  ", lines))], Set, Width, Style.Table) { Before = 0 });
        }

        Add(new RuleBlock());
    }

    private void Describe(PdfDocument document)
    {
        document.Info.Title = Set.Printable.OfTitle(_identity.Title);
        document.Info.Author = Set.Printable.OfTitle(_identity.Shop.Name);
        document.Info.Creator = "ShopDiag";
        document.Info.CreationDate = _identity.Date.ToDateTime(TimeOnly.MinValue, DateTimeKind.Utc);
    }

    private static List<string> Said(params string[] texts) => [.. texts.Where(t => !string.IsNullOrWhiteSpace(t))];
}
