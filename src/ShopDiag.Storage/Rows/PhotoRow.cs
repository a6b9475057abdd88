using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;
using ShopDiag.Diagnosis;
using ShopDiag.Diagnosis.BenchTests;
using ShopDiag.Storage.Photos;

namespace ShopDiag.Storage.Rows;

/// <summary>A photo as a row. The pictures are files named after <see cref="Id"/>.</summary>
internal sealed class PhotoRow
{
    public Guid Id { get; set; }

    public Guid OrderId { get; set; }

    public string Test { get; set; } = "";

    public PlaceKind PlaceKind { get; set; }

    public int PlaceFirst { get; set; }

    public int PlaceSecond { get; set; }

    public Stage Stage { get; set; }

    public int Width { get; set; }

    public int Height { get; set; }

    public DateTime TakenAt { get; set; }

    public string By { get; set; } = "";

    public string Caption { get; set; } = "";

    /// <summary>The text of <see cref="PhotoMarks"/>.</summary>
    public string MarksJson { get; set; } = PhotoMarks.None;

    public bool InReport { get; set; }

    public DateTime? RemovedAt { get; set; }

    public static PhotoRow Of(NewPhoto photo, DateTime now) => new()
    {
        Id = photo.Id,
        OrderId = photo.OrderId,
        Test = PlainText.Line(photo.Test),
        PlaceKind = photo.At.Kind,
        PlaceFirst = photo.At.First,
        PlaceSecond = photo.At.Second,
        Stage = photo.Stage,
        Width = photo.Width,
        Height = photo.Height,
        TakenAt = photo.TakenAt is { } taken && taken < now ? taken : now,
        By = PlainText.Line(photo.By),
    };

    public Photo ToRecord() => new()
    {
        Id = Id,
        OrderId = OrderId,
        Test = Test,
        At = PlaceColumns.Read(PlaceKind, PlaceFirst, PlaceSecond),
        Stage = Stage,
        Width = Width,
        Height = Height,
        TakenAt = TakenAt,
        By = By,
        Caption = Caption,
        Marks = PhotoMarks.Read(MarksJson).Value,
        InReport = InReport,
        RemovedAt = RemovedAt,
    };
}

internal sealed class PhotoTable : IEntityTypeConfiguration<PhotoRow>
{
    public void Configure(EntityTypeBuilder<PhotoRow> builder)
    {
        builder.ToTable("Photos", t =>
        {
            t.HasCheckConstraint("CK_Photos_MarksJson", "json_valid(MarksJson)");
            t.HasCheckConstraint("CK_Photos_Size", "typeof(Width) = 'integer' AND typeof(Height) = 'integer' AND Width >= 1 AND Height >= 1");
            t.HasCheckConstraint("CK_Photos_Place", PlaceColumns.Check);
        });
        builder.Property(p => p.PlaceKind).HasConversion<string>();
        builder.Property(p => p.Stage).HasConversion<string>();
        builder.HasIndex(p => new { p.OrderId, p.TakenAt });
        builder.HasOne<OrderRow>().WithMany().HasForeignKey(p => p.OrderId).OnDelete(DeleteBehavior.Restrict);
    }
}
