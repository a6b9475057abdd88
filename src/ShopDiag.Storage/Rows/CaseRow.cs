using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;
using ShopDiag.Comebacks.Repairs;

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

    /// <summary>When it was written up, in seconds since 1970, UTC: a number is read ten times as fast as a time in words.</summary>
    public long CameIn { get; set; }

    /// <summary>When it was handed over; null while it is in the building.</summary>
    public long? HandedOver { get; set; }

    public int? Kilometres { get; set; }

    /// <summary>The causes repaired as JSON; empty when none was.</summary>
    public string Repaired { get; set; } = "";

    public string Technician { get; set; } = "";

    public string EngineFamily { get; set; } = "";

    /// <summary>The parts fitted as JSON; empty when none was.</summary>
    public string Parts { get; set; } = "";

    public bool? ProofGiven { get; set; }

    public bool? RepairChecked { get; set; }

    public double? MinutesToProof { get; set; }

    public int? MinutesAuthorised { get; set; }

    /// <summary>Price of the diagnosis in minor units: minutes billed follow from it and the labour rate.</summary>
    public long? DiagnosisPriceMinor { get; set; }

    public int? MinutesSpent { get; set; }

    public Guid? ComebackOf { get; set; }

    public ComebackAnswer Answer { get; set; }
}

internal sealed class CaseTable : IEntityTypeConfiguration<CaseRow>
{
    public void Configure(EntityTypeBuilder<CaseRow> builder)
    {
        builder.ToTable("Cases", t => t.HasCheckConstraint("CK_Cases_Json", "(Repaired = '' OR json_valid(Repaired)) AND (Parts = '' OR json_valid(Parts))"));
        builder.HasKey(c => c.Number);
        builder.Property(c => c.Number).ValueGeneratedNever();
        builder.HasIndex(c => c.OrderId).IsUnique();
        builder.HasIndex(c => c.VehicleId);
        builder.Property(c => c.Answer).HasConversion<int>();
        builder.HasOne<OrderRow>().WithOne().HasForeignKey<CaseRow>(c => c.OrderId).OnDelete(DeleteBehavior.Cascade);
    }
}
