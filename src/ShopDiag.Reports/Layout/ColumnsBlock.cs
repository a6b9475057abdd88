namespace ShopDiag.Reports.Layout;

/// <summary>One column of blocks that stand beside others.</summary>
/// <param name="Offset">From the left end of the text, in points.</param>
/// <param name="Width">Width in points.</param>
/// <param name="Blocks">What stands in it.</param>
internal sealed record Column(double Offset, double Width, IReadOnlyList<Block> Blocks);

/// <summary>Columns side by side, read one after the other and kept on one page: their height must be less than a page.</summary>
internal sealed class ColumnsBlock : Block
{
    private readonly IReadOnlyList<Column> _columns;

    /// <summary>Columns of blocks that were laid out for their width.</summary>
    public ColumnsBlock(IReadOnlyList<Column> columns, Typesetter set)
    {
        _columns = columns;
        HeadHeight = columns.Max(c => c.Blocks.Count == 0 ? 0 : Flow.Height(c.Blocks, set, c.Width));
    }

    /// <inheritdoc/>
    public override double HeadHeight { get; }

    /// <inheritdoc/>
    public override void Draw(Sheet sheet)
    {
        foreach (var column in _columns)
        {
            sheet.InColumn(column.Offset, column.Width, () => Flow.Draw(column.Blocks, sheet));
        }

        sheet.Advance(HeadHeight);
    }
}
