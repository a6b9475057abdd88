using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;
using ShopDiag.Diagnosis;
using ShopDiag.Diagnosis.BenchTests;

namespace ShopDiag.Storage.Rows;

/// <summary>A reading as a row. Rows are only ever added: triggers of the database refuse a change or a deletion.</summary>
internal sealed class ReadingRow
{
    /// <summary>Made by the client, so that a repeated save meets the row that is already there.</summary>
    public Guid Id { get; set; }

    public Guid OrderId { get; set; }

    /// <summary>Running number within the order, from 1.</summary>
    public int Sequence { get; set; }

    public string Test { get; set; } = "";

    public PlaceKind PlaceKind { get; set; }

    public int PlaceFirst { get; set; }

    public int PlaceSecond { get; set; }

    /// <summary>The values as JSON (<see cref="Json.ReadingValueJson"/>).</summary>
    public string ValueJson { get; set; } = "{}";

    public Stage Stage { get; set; }

    public bool? Warm { get; set; }

    /// <summary>As said by who took it, with its offset; never sorted by.</summary>
    public DateTimeOffset? TakenAt { get; set; }

    public string? By { get; set; }

    public string? Note { get; set; }

    public Guid? SupersedesId { get; set; }

    public bool Withdrawn { get; set; }

    /// <summary>When it reached the database, UTC.</summary>
    public DateTime SavedAt { get; set; }
}

internal sealed class ReadingTable : IEntityTypeConfiguration<ReadingRow>
{
    public void Configure(EntityTypeBuilder<ReadingRow> builder)
    {
        builder.ToTable("Readings", t =>
        {
            t.HasCheckConstraint("CK_Readings_Sequence", "typeof(Sequence) = 'integer' AND Sequence >= 1");
            t.HasCheckConstraint("CK_Readings_ValueJson", "json_valid(ValueJson)");
            t.HasCheckConstraint("CK_Readings_Place", PlaceColumns.Check);
            t.HasCheckConstraint("CK_Readings_Withdrawn", "NOT Withdrawn OR SupersedesId IS NOT NULL");
        });
        builder.Property(r => r.PlaceKind).HasConversion<string>();
        builder.Property(r => r.Stage).HasConversion<string>();
        builder.HasIndex(r => new { r.OrderId, r.Sequence }).IsUnique();
        builder.HasOne<OrderRow>().WithMany(o => o.Readings).HasForeignKey(r => r.OrderId).OnDelete(DeleteBehavior.Restrict);
        builder.HasOne<ReadingRow>().WithMany().HasForeignKey(r => r.SupersedesId).OnDelete(DeleteBehavior.Restrict);
    }
}
