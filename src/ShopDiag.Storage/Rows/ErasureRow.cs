using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;

namespace ShopDiag.Storage.Rows;

/// <summary>That a customer was erased. Kept so that an older backup, put back, does not bring the person back with it; says nothing of who it was.</summary>
internal sealed class ErasureRow
{
    public Guid CustomerId { get; set; }

    public DateTime At { get; set; }

    /// <summary>Who did it, or empty for the retention rule.</summary>
    public string By { get; set; } = "";
}

internal sealed class ErasureTable : IEntityTypeConfiguration<ErasureRow>
{
    public void Configure(EntityTypeBuilder<ErasureRow> builder)
    {
        builder.ToTable("Erasures");
        builder.HasKey(e => e.CustomerId);
        builder.HasOne<CustomerRow>().WithMany().HasForeignKey(e => e.CustomerId).OnDelete(DeleteBehavior.Restrict);
    }
}
