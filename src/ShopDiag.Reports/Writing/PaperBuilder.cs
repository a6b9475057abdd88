using ShopDiag.Reports.Drawing;
using ShopDiag.Reports.Layout;

namespace ShopDiag.Reports.Writing;

/// <summary>Collects the blocks of a paper, or of one column of it.</summary>
internal sealed class PaperBuilder(Typesetter set, PictureShelf pictures, double width)
{
    /// <summary>Columns higher than this are set one below the other: they must fit on one page, and short ones are easier to read.</summary>
    private const double HighestColumns = 330;

    private const double ColumnGap = 14;
    private readonly List<Block> _blocks = [];

    /// <summary>Measures.</summary>
    public Typesetter Set { get; } = set;

    /// <summary>Reads pictures.</summary>
    public PictureShelf Pictures { get; } = pictures;

    /// <summary>Width of the text in points.</summary>
    public double Width { get; } = width;

    /// <summary>What was collected so far.</summary>
    public IReadOnlyList<Block> Blocks => _blocks;

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

    /// <summary>Adds a paragraph of small print, unless it is empty.</summary>
    public void SmallPrint(string text)
    {
        if (!string.IsNullOrWhiteSpace(text))
        {
            Add(new Paragraph([new Run(text)], Set, Width, Set.Look.Small));
        }
    }

    /// <summary>Adds a list, unless it is empty; items that say nothing are left out.</summary>
    public void Bullets(IEnumerable<string> items)
    {
        var said = items.Where(item => !string.IsNullOrWhiteSpace(item)).ToList();
        if (said.Count > 0)
        {
            Add(new Bullets(said.Select(item => new[] { new Run(item) }), Set, Width));
        }
    }

    /// <summary>Adds labels and values, two pairs a row with the wider one first, or one a row; pairs without a value are left out. Rows may be set high enough to write in.</summary>
    public void KeyValues(IEnumerable<(string Label, string Value)> pairs, bool single = false, double leastRow = 0)
    {
        const double label = 76, shortLabel = 78;
        var (perRow, widths) = single ? (1, new[] { label, Width - label }) : (2, [label, (0.73 * Width) - label - shortLabel, shortLabel, 0.27 * Width]);
        var cells = pairs.Where(p => !string.IsNullOrWhiteSpace(p.Value))
            .Select(p => new[] { Cell.Head(p.Label + ":", HeaderScope.Row), Cell.Of(p.Value) })
            .Chunk(perRow)
            .Select(row => row.Length == perRow ? [.. row.SelectMany(c => c)] : (Cell[])[.. row[0], Cell.Of("", span: 2)])
            .ToList();
        if (cells.Count > 0)
        {
            Add(new Table(widths, null, cells, TableLook.Open(Set.Look) with { LeastRow = leastRow }, Set) { Before = 6 });
        }
    }

    /// <summary>
    /// Adds columns side by side, each with its share of the width, where that is lower than one below the other and fits on a page;
    /// one below the other in full width otherwise.
    /// </summary>
    public void SideBySide(double before, params (double Share, Action<PaperBuilder> Fill)[] columns)
    {
        var beside = new List<Column>();
        var usable = Width - (ColumnGap * (columns.Length - 1));
        var offset = 0.0;
        foreach (var (share, fill) in columns)
        {
            beside.Add(new Column(offset, usable * share, Filled(fill, usable * share)));
            offset += (usable * share) + ColumnGap;
        }

        var block = new ColumnsBlock(beside, Set) { Before = before };
        var below = columns.SelectMany(c => Filled(c.Fill, Width)).ToList();
        if (beside.All(c => c.Blocks.Count > 0) && block.HeadHeight <= HighestColumns && block.HeadHeight < Flow.Height(below, Set, Width))
        {
            Add(block);
        }
        else
        {
            _blocks.AddRange(below);
        }
    }

    /// <summary>
    /// Adds something against the right side with notes beside it, read after it; the notes go below in full width where they are too high to stand beside.
    /// </summary>
    public void AtRight(double share, double before, Action<PaperBuilder> fill, Action<PaperBuilder> notes)
    {
        var width = share * Width;
        var right = new Column(Width - width, width, Filled(fill, width));
        var left = new Column(0, Width - width - ColumnGap, Filled(notes, Width - width - ColumnGap));
        var (whole, single) = (new ColumnsBlock([right, left], Set) { Before = before }, new ColumnsBlock([right], Set) { Before = before });
        if (single.HeadHeight > HighestColumns)
        {
            _blocks.AddRange(Filled(fill, Width));
            notes(this);
        }
        else if (whole.HeadHeight > HighestColumns)
        {
            Add(single);
            notes(this);
        }
        else
        {
            Add(whole);
        }
    }

    private List<Block> Filled(Action<PaperBuilder> fill, double columnWidth)
    {
        var builder = new PaperBuilder(Set, Pictures, columnWidth);
        fill(builder);
        return builder._blocks;
    }
}
