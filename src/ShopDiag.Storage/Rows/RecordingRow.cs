using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;
using ShopDiag.Diagnosis.BenchTests;
using ShopDiag.Storage.Json;
using ShopDiag.Storage.Recordings;

namespace ShopDiag.Storage.Rows;

/// <summary>A recording as a row. The sound itself is a file named after <see cref="Id"/>.</summary>
internal sealed class RecordingRow
{
    public Guid Id { get; set; }

    public Guid OrderId { get; set; }

    public RecordingKind Kind { get; set; }

    public DateTime MadeAt { get; set; }

    public string By { get; set; } = "";

    public Stage Stage { get; set; }

    public int Cylinders { get; set; }

    public string Method { get; set; } = "";

    /// <summary>The <see cref="RecordingPlan"/> as JSON.</summary>
    public string PlanJson { get; set; } = "{}";

    public double Seconds { get; set; }

    public double LostSeconds { get; set; }

    public bool Finished { get; set; }

    public DateTime? ConfirmedAt { get; set; }

    public DateTime? RemovedAt { get; set; }

    public static string Write(RecordingPlan plan) => StorageJson.Write(plan);

    public BalanceRecording ToRecord() => new()
    {
        Id = Id,
        OrderId = OrderId,
        Kind = Kind,
        MadeAt = MadeAt,
        By = By,
        Stage = Stage,
        Cylinders = Cylinders,
        Method = Method,
        Plan = StorageJson.Read<RecordingPlan>(PlanJson),
        Seconds = Seconds,
        LostSeconds = LostSeconds,
        Finished = Finished,
        ConfirmedAt = ConfirmedAt,
        RemovedAt = RemovedAt,
    };
}

internal sealed class RecordingTable : IEntityTypeConfiguration<RecordingRow>
{
    public void Configure(EntityTypeBuilder<RecordingRow> builder)
    {
        builder.ToTable("Recordings", t =>
        {
            t.HasCheckConstraint("CK_Recordings_PlanJson", "json_valid(PlanJson)");
            t.HasCheckConstraint("CK_Recordings_Seconds", "Seconds >= 0 AND LostSeconds >= 0");
        });
        builder.Property(r => r.Kind).HasConversion<string>();
        builder.Property(r => r.Stage).HasConversion<string>();
        builder.HasIndex(r => new { r.OrderId, r.MadeAt });
        builder.HasOne<OrderRow>().WithMany().HasForeignKey(r => r.OrderId).OnDelete(DeleteBehavior.Restrict);
    }
}
