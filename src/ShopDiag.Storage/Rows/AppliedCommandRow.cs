using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;

namespace ShopDiag.Storage.Rows;

/// <summary>A command that has had its effect. Its id can never have an effect again.</summary>
internal sealed class AppliedCommandRow
{
    /// <summary>Made by the client before the first try.</summary>
    public Guid Id { get; set; }

    public Guid OrderId { get; set; }

    /// <summary>What it did, such as <c>set VehiclePlate</c>.</summary>
    public string What { get; set; } = "";

    public string By { get; set; } = "";

    public DateTime At { get; set; }
}

internal sealed class AppliedCommandTable : IEntityTypeConfiguration<AppliedCommandRow>
{
    public void Configure(EntityTypeBuilder<AppliedCommandRow> builder)
    {
        builder.ToTable("AppliedCommands");
        builder.HasOne<OrderRow>().WithMany().HasForeignKey(c => c.OrderId).OnDelete(DeleteBehavior.Restrict);
    }
}
