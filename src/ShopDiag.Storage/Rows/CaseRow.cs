using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;

namespace ShopDiag.Storage.Rows;

/// <summary>
/// An order as the owner's figures count it, made of the order's own rows and kept in step with them in the same transaction (<see cref="Writing.Summaries"/>):
/// the figures of a large shop are read from this one narrow table. What depends on settings, the time zone and the window, is worked out when it is read.
/// </summary>
internal sealed class CaseRow
{
    /// <summary>The order's number, so that the table lies in the order in which the figures want it.</summary>
    public int Number { get; set; }

    public Guid OrderId { get; set; }

    public Guid VehicleId { get; set; }

    /// <summary>True when something was repaired.</summary>
    public bool Repaired { get; set; }

    /// <summary>All that the figures count (<see cref="Comebacks.CaseLine"/>); empty for an order made by mistake, which is no case. One text and not twenty columns: taking the columns of 200,000 rows one by one took longer than all the counting.</summary>
    public string Line { get; set; } = "";
}

internal sealed class CaseTable : IEntityTypeConfiguration<CaseRow>
{
    public void Configure(EntityTypeBuilder<CaseRow> builder)
    {
        builder.ToTable("Cases");
        builder.HasKey(c => c.Number);
        builder.Property(c => c.Number).ValueGeneratedNever();
        builder.HasIndex(c => c.OrderId).IsUnique();
        builder.HasIndex(c => c.VehicleId);
        builder.HasOne<OrderRow>().WithOne().HasForeignKey<CaseRow>(c => c.OrderId).OnDelete(DeleteBehavior.Cascade);
    }
}
