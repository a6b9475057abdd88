using System.Collections.Immutable;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;
using ShopDiag.Estimates;
using ShopDiag.Storage.Json;

namespace ShopDiag.Storage.Rows;

/// <summary>The estimate of an order as it stands: one row an order. What was approved of it stands in <see cref="ApprovalRow"/>.</summary>
internal sealed class EstimateRow
{
    public Guid OrderId { get; set; }

    /// <summary>The lines as JSON, those taken off too.</summary>
    public string LinesJson { get; set; } = "[]";

    public DateTime ChangedAt { get; set; }

    public ImmutableArray<EstimateLine> Lines() => StorageJson.Read<ImmutableArray<EstimateLine>>(LinesJson);

    public void Put(ImmutableArray<EstimateLine> lines, DateTime now) => (LinesJson, ChangedAt) = (StorageJson.Write(lines), now);
}

internal sealed class EstimateTable : IEntityTypeConfiguration<EstimateRow>
{
    public void Configure(EntityTypeBuilder<EstimateRow> builder)
    {
        builder.ToTable("Estimates", t => t.HasCheckConstraint("CK_Estimates_LinesJson", "json_valid(LinesJson)"));
        builder.HasKey(e => e.OrderId);
        builder.HasOne<OrderRow>().WithOne(o => o.Estimate).HasForeignKey<EstimateRow>(e => e.OrderId).OnDelete(DeleteBehavior.Restrict);
    }
}
