using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;

namespace ShopDiag.Storage.Rows;

/// <summary>A customer as a row.</summary>
internal sealed class CustomerRow
{
    public Guid Id { get; set; }

    public string Name { get; set; } = "";

    public string Phone { get; set; } = "";

    public string Email { get; set; } = "";
}

internal sealed class CustomerTable : IEntityTypeConfiguration<CustomerRow>
{
    public void Configure(EntityTypeBuilder<CustomerRow> builder) => builder.ToTable("Customers");
}
