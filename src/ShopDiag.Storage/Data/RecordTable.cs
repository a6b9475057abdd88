using System.Collections.Immutable;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata;
using ShopDiag.Storage.Rows;

namespace ShopDiag.Storage.Data;

/// <summary>A table as it is written out. Names come from the model and are safe in SQL.</summary>
/// <param name="Name">Its name.</param>
/// <param name="Columns">Its columns, by name.</param>
/// <param name="Key">The columns by which its rows are put in order.</param>
internal sealed record RecordTable(string Name, ImmutableArray<RecordColumn> Columns, ImmutableArray<string> Key)
{
    /// <summary>
    /// What stays where it is. Cases are made of the other tables (<see cref="Writing.Summaries"/>), and made anew where those come in. How people sign in, on which devices, and which programs may ask, holds for one
    /// installation and its keys: another is set up anew.
    /// </summary>
    private static readonly Type[] StayHere = [typeof(CaseRow), typeof(PersonRow), typeof(DeviceRow), typeof(TokenRow)];

    /// <summary>All tables, each after those that its rows point at.</summary>
    public static ImmutableArray<RecordTable> All(ShopDb db)
    {
        var types = db.Model.GetEntityTypes().Where(t => t.GetTableName() is not null && !StayHere.Contains(t.ClrType)).OrderBy(t => t.GetTableName(), StringComparer.Ordinal).ToList();
        var ordered = new List<IEntityType>();
        types.ForEach(Add);
        return [.. ordered.Select(Of)];

        void Add(IEntityType type)
        {
            if (!ordered.Contains(type))
            {
                foreach (var key in type.GetForeignKeys().Where(k => k.PrincipalEntityType != type).OrderBy(k => k.PrincipalEntityType.GetTableName(), StringComparer.Ordinal))
                {
                    Add(key.PrincipalEntityType);
                }

                ordered.Add(type);
            }
        }
    }

    /// <summary>A query for all rows in order, or for those that a condition holds for.</summary>
    public string Select(string condition = "1") =>
        $"SELECT {string.Join(", ", Columns.Select(c => $"\"{c.Name}\""))} FROM \"{Name}\" WHERE {condition} ORDER BY {string.Join(", ", Key.Select(k => $"\"{k}\""))}";

    private static RecordTable Of(IEntityType type) => new(
        type.GetTableName()!,
        [.. type.GetProperties().Select(p => new RecordColumn(p.GetColumnName(), p.ClrType == typeof(bool) || p.ClrType == typeof(bool?))).OrderBy(c => c.Name, StringComparer.Ordinal)],
        [.. type.FindPrimaryKey()!.Properties.Select(p => p.GetColumnName())]);
}

/// <summary>A column.</summary>
/// <param name="Name">Its name.</param>
/// <param name="IsBool">True for yes or no, which SQLite keeps as a number.</param>
internal readonly record struct RecordColumn(string Name, bool IsBool)
{
    /// <summary>True when its text is JSON, which is written as such.</summary>
    public bool IsJson => Name.EndsWith("Json", StringComparison.Ordinal);
}
