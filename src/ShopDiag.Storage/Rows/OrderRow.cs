using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;
using ShopDiag.Comebacks.Repairs;
using ShopDiag.Diagnosis.Workups;
using ShopDiag.Storage.Orders;

namespace ShopDiag.Storage.Rows;

/// <summary>A repair order as a row; readings, tests that cannot be taken, findings and moves stand in rows of their own.</summary>
internal sealed class OrderRow
{
    public Guid Id { get; set; }

    public int Number { get; set; }

    public OrderStage Stage { get; set; }

    public Guid CustomerId { get; set; }

    public CustomerRow? Customer { get; set; }

    public Guid VehicleId { get; set; }

    public VehicleRow? Vehicle { get; set; }

    public string ConcernText { get; set; } = "";

    /// <summary>Codes separated by one comma, or empty.</summary>
    public string ConcernCodes { get; set; } = "";

    public Lamp ConcernLamp { get; set; }

    /// <summary>Conditions separated by one comma, or empty.</summary>
    public string ConcernWhen { get; set; } = "";

    public int? Odometer { get; set; }

    public string OdometerUnit { get; set; } = "km";

    public DateTime? PromisedAt { get; set; }

    public string Technician { get; set; } = "";

    public int AuthorisedMinutes { get; set; }

    public long? DiagnosisPriceMinor { get; set; }

    public Guid? ComebackOf { get; set; }

    /// <summary>What the shop said about whether it is a comeback.</summary>
    public ComebackAnswer ComebackAnswer { get; set; }

    /// <summary>Who said so, or empty.</summary>
    public string ComebackAnsweredBy { get; set; } = "";

    /// <summary>When; null while nobody has said.</summary>
    public DateTime? ComebackAnsweredAt { get; set; }

    public DateTime CreatedAt { get; set; }

    public List<ReadingRow> Readings { get; set; } = [];

    public List<ObstacleRow> Obstacles { get; set; } = [];

    public List<FindingRow> Findings { get; set; } = [];

    public List<StageMoveRow> Moves { get; set; } = [];

    /// <summary>Minutes really spent on the diagnosis; null while nobody said.</summary>
    public int? MinutesSpent { get; set; }

    /// <summary>The concern as a person wrote it up; empty while the draft stands.</summary>
    public string WrittenConcern { get; set; } = "";

    /// <summary>The same of the cause.</summary>
    public string WrittenCause { get; set; } = "";

    /// <summary>The same of the correction.</summary>
    public string WrittenCorrection { get; set; } = "";

    /// <summary>Whether the codes were cleared after the repair: Yes, No or empty.</summary>
    public string CodesCleared { get; set; } = "";

    /// <summary>The monitors that had run to the end then, as noted.</summary>
    public string MonitorsNoted { get; set; } = "";

    public EstimateRow? Estimate { get; set; }

    public List<ApprovalRow> Approvals { get; set; } = [];

    public List<PartRow> Parts { get; set; } = [];
}

internal sealed class OrderTable : IEntityTypeConfiguration<OrderRow>
{
    public void Configure(EntityTypeBuilder<OrderRow> builder)
    {
        builder.ToTable("Orders", t =>
        {
            t.HasCheckConstraint("CK_Orders_Number", "typeof(Number) = 'integer' AND Number >= 1001");
            t.HasCheckConstraint("CK_Orders_OdometerUnit", "OdometerUnit IN ('km', 'mi')");
            t.HasCheckConstraint("CK_Orders_Odometer", "Odometer IS NULL OR (typeof(Odometer) = 'integer' AND Odometer BETWEEN 0 AND 9999999)");
            t.HasCheckConstraint("CK_Orders_AuthorisedMinutes", "typeof(AuthorisedMinutes) = 'integer' AND AuthorisedMinutes BETWEEN 0 AND 10000");
            t.HasCheckConstraint("CK_Orders_Comeback", "ComebackAnswer IN ('Undecided', 'Yes', 'No', 'OtherTrouble') AND (ComebackAnswer = 'Yes') = (ComebackOf IS NOT NULL)");
            t.HasCheckConstraint("CK_Orders_DiagnosisPriceMinor", "DiagnosisPriceMinor IS NULL OR (typeof(DiagnosisPriceMinor) = 'integer' AND DiagnosisPriceMinor >= 0)");
        });
        builder.HasIndex(o => o.Number).IsUnique();
        builder.HasIndex(o => o.Stage);
        builder.Property(o => o.Stage).HasConversion<string>();
        builder.Property(o => o.ComebackAnswer).HasConversion<string>().HasDefaultValue(ComebackAnswer.Undecided);
        builder.Property(o => o.ConcernLamp).HasConversion<string>();
        builder.Property(o => o.CodesCleared).HasDefaultValue("");
        builder.Property(o => o.MonitorsNoted).HasDefaultValue("");
        builder.HasOne(o => o.Customer).WithMany().HasForeignKey(o => o.CustomerId).OnDelete(DeleteBehavior.Restrict);
        builder.HasOne(o => o.Vehicle).WithMany().HasForeignKey(o => o.VehicleId).OnDelete(DeleteBehavior.Restrict);
        builder.HasOne<OrderRow>().WithMany().HasForeignKey(o => o.ComebackOf).OnDelete(DeleteBehavior.Restrict);
    }
}
