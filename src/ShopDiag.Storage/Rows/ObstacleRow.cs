using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;
using ShopDiag.Diagnosis;

namespace ShopDiag.Storage.Rows;

/// <summary>A test that cannot be taken on the order's car, as a row. Only its end is ever entered later: triggers of the database refuse any other change and a deletion.</summary>
internal sealed class ObstacleRow
{
    /// <summary>Made by the client, so that a repeated save meets the row that is already there.</summary>
    public Guid Id { get; set; }

    public Guid OrderId { get; set; }

    public string Test { get; set; } = "";

    public PlaceKind PlaceKind { get; set; }

    public int PlaceFirst { get; set; }

    public int PlaceSecond { get; set; }

    public string Why { get; set; } = "";

    public string By { get; set; } = "";

    /// <summary>When it reached the database, UTC.</summary>
    public DateTime SaidAt { get; set; }

    public string? EndedBy { get; set; }

    /// <summary>UTC; null while it stands.</summary>
    public DateTime? EndedAt { get; set; }
}

internal sealed class ObstacleTable : IEntityTypeConfiguration<ObstacleRow>
{
    public void Configure(EntityTypeBuilder<ObstacleRow> builder)
    {
        builder.ToTable("Obstacles", t =>
        {
            t.HasCheckConstraint("CK_Obstacles_Place", PlaceColumns.Check);
            t.HasCheckConstraint("CK_Obstacles_End", "(EndedAt IS NULL) = (EndedBy IS NULL)");
        });
        builder.Property(o => o.PlaceKind).HasConversion<string>();
        builder.HasIndex(o => new { o.OrderId, o.SaidAt });
        builder.HasOne<OrderRow>().WithMany(o => o.Obstacles).HasForeignKey(o => o.OrderId).OnDelete(DeleteBehavior.Restrict);
    }
}
