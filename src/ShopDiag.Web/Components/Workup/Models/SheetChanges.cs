using System.Collections.Immutable;

namespace ShopDiag.Web.Components.WorkupViews;

/// <summary>What has changed from one version of the sheet to the next: the only thing that moves on the page.</summary>
public static class SheetChanges
{
    /// <summary>The cells that look different now; none for the first version and after a change of stage.</summary>
    public static ImmutableHashSet<CellKey> Between(WorkupView? before, WorkupView? now)
    {
        if (before is null || now is null || before.Stage != now.Stage)
        {
            return [];
        }

        var known = before.Sheet.Rows.SelectMany(r => r.Cells).ToHashSet();
        return [.. now.Sheet.Rows.SelectMany(r => r.Cells).Where(c => !known.Contains(c)).Select(c => c.Key)];
    }
}
