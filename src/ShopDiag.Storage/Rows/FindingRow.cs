using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;

namespace ShopDiag.Storage.Rows;

/// <summary>A finding taken over, or taken back, as a row. The newest of an order counts; the earlier ones stay as history.</summary>
internal sealed class FindingRow
{
    public Guid OrderId { get; set; }

    /// <summary>Running number within the order, from 1.</summary>
    public int Sequence { get; set; }

    /// <summary>The finding as JSON (<see cref="Json.StorageJson"/>); null when the one before was taken back.</summary>
    public string? FindingJson { get; set; }

    /// <summary>The ids of its causes separated by one comma, for the list and the search.</summary>
    public string Causes { get; set; } = "";

    /// <summary>When it reached the database, UTC.</summary>
    public DateTime SavedAt { get; set; }
}

internal sealed class FindingTable : IEntityTypeConfiguration<FindingRow>
{
    public void Configure(EntityTypeBuilder<FindingRow> builder)
    {
        builder.ToTable("Findings", t =>
            t.HasCheckConstraint("CK_Findings_FindingJson", "FindingJson IS NULL OR json_valid(FindingJson)"));
        builder.HasKey(f => new { f.OrderId, f.Sequence });
        builder.HasOne<OrderRow>().WithMany(o => o.Findings).HasForeignKey(f => f.OrderId).OnDelete(DeleteBehavior.Restrict);
    }
}
