using ShopDiag.Diagnosis;
using ShopDiag.Diagnosis.BenchTests;

namespace ShopDiag.Web.Components.WorkupViews;

/// <summary>One cell of the cylinder sheet: a test at a place, before or after the repair.</summary>
/// <param name="Test">The test's id.</param>
/// <param name="At">Where.</param>
/// <param name="Stage">Before or after the repair.</param>
public readonly record struct CellKey(string Test, Place At, Stage Stage = Stage.Before)
{
    private const string AfterMark = "+after";

    /// <summary>The cell in a key: <c>compression-dry:c3</c>. Keys stay on tablets: they never change.</summary>
    public string Text => $"{Test}:{PlaceWords.Key(At)}{(Stage == Stage.After ? AfterMark : "")}";

    /// <summary>The beginning of every draft key of an order's cells.</summary>
    public static string DraftPrefix(Guid order) => $"order:{order}:cell:";

    /// <summary>The key under which the browser keeps the text typed into one field of this cell.</summary>
    public string DraftKey(Guid order, string field) => $"{DraftPrefix(order)}{Text}:{field}";

    /// <summary>Reads a draft key of this order back into cell and field; null for a key that is none.</summary>
    public static (CellKey Cell, string Field)? ReadDraft(Guid order, string key)
    {
        ArgumentNullException.ThrowIfNull(key);
        var prefix = DraftPrefix(order);
        if (!key.StartsWith(prefix, StringComparison.Ordinal) || key[prefix.Length..].Split(':', 3) is not [var test, var where, var field])
        {
            return null;
        }

        return Read(test, where) is { } cell ? (cell, field) : null;
    }

    /// <summary>Reads <see cref="Text"/> back; null for anything else.</summary>
    public static CellKey? Read(string text)
    {
        ArgumentNullException.ThrowIfNull(text);
        return text.Split(':') is [var test, var where] ? Read(test, where) : null;
    }

    private static CellKey? Read(string test, string where)
    {
        var after = where.EndsWith(AfterMark, StringComparison.Ordinal);
        return PlaceWords.Read(after ? where[..^AfterMark.Length] : where) is { } at ? new CellKey(test, at, after ? Stage.After : Stage.Before) : null;
    }
}
