namespace ShopDiag.Reports.Layout;

/// <summary>Lays blocks one below the other.</summary>
internal static class Flow
{
    /// <summary>Draws all blocks; returns the number of pages.</summary>
    public static int Draw(IReadOnlyList<Block> blocks, Sheet sheet)
    {
        for (var i = 0; i < blocks.Count; i++)
        {
            sheet.EnsureRoom(KeptHeight(blocks, i, sheet.Set.Look.Gaps));
            sheet.Gap(blocks[i].Before);
            blocks[i].Draw(sheet);
        }

        return sheet.PageNumber;
    }

    /// <summary>The height that blocks take in a column of a width, in points.</summary>
    public static double Height(IReadOnlyList<Block> blocks, Typesetter set, double width)
    {
        var sheet = new Sheet(PageGeometry.Endless(width), new NoInk(), set, new Furniture("", ""), pageCount: null);
        var top = sheet.Y;
        Draw(blocks, sheet);
        return sheet.Y - top;
    }

    /// <summary>What must stay together from a block on: its head, and the heads of those it is kept with.</summary>
    private static double KeptHeight(IReadOnlyList<Block> blocks, int first, double gaps)
    {
        var height = 0.0;
        var i = first;
        do
        {
            height += (blocks[i].Before * gaps) + blocks[i].HeadHeight;
        }
        while (blocks[i].KeepWithNext && ++i < blocks.Count);
        return height;
    }
}
