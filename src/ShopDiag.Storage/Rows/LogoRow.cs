using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;

namespace ShopDiag.Storage.Rows;

/// <summary>The shop's logo, and the one before it.</summary>
internal sealed class LogoRow
{
    /// <summary>True for the one that is printed.</summary>
    public bool IsPrinted { get; set; }

    public byte[] Png { get; set; } = [];
}

internal sealed class LogoTable : IEntityTypeConfiguration<LogoRow>
{
    public void Configure(EntityTypeBuilder<LogoRow> builder)
    {
        builder.ToTable("Logos");
        builder.HasKey(l => l.IsPrinted);
        builder.Property(l => l.IsPrinted).ValueGeneratedNever();
    }
}
