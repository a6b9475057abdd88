using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;
using ShopDiag.Storage.Orders;

namespace ShopDiag.Storage.Rows;

/// <summary>One step in the life of an order as a row. Rows are only ever added: triggers of the database refuse a change or a deletion.</summary>
internal sealed class StageMoveRow
{
    public Guid OrderId { get; set; }

    /// <summary>Running number within the order, from 1.</summary>
    public int Sequence { get; set; }

    public OrderStage Stage { get; set; }

    public DateTime At { get; set; }

    public string By { get; set; } = "";

    public string Reason { get; set; } = "";
}

internal sealed class StageMoveTable : IEntityTypeConfiguration<StageMoveRow>
{
    public void Configure(EntityTypeBuilder<StageMoveRow> builder)
    {
        builder.ToTable("StageMoves");
        builder.HasKey(m => new { m.OrderId, m.Sequence });
        builder.Property(m => m.Stage).HasConversion<string>();
        builder.HasOne<OrderRow>().WithMany(o => o.Moves).HasForeignKey(m => m.OrderId).OnDelete(DeleteBehavior.Restrict);
    }
}
