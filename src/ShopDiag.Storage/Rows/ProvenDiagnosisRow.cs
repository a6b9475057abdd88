using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;

namespace ShopDiag.Storage.Rows;

/// <summary>
/// A cause proven on an order, for counting: what the order's newest finding says, kept beside it so that two hundred thousand orders can be counted without reading
/// their findings. Goes when the finding is taken back; the findings themselves stay on record. Only <see cref="Learning.ProvenDiagnoses"/> writes it.
/// </summary>
internal sealed class ProvenDiagnosisRow
{
    public Guid OrderId { get; set; }

    /// <summary>The cause's id. An order counts once for a cause, at however many cylinders it was found.</summary>
    public string Cause { get; set; } = "";

    /// <summary>The engine's family (<see cref="Diagnosis.Learning.EngineFamily.Id"/>).</summary>
    public string EngineFamily { get; set; } = "";

    /// <summary>When the finding was taken over, UTC.</summary>
    public DateTime ProvenAt { get; set; }
}

internal sealed class ProvenDiagnosisTable : IEntityTypeConfiguration<ProvenDiagnosisRow>
{
    public void Configure(EntityTypeBuilder<ProvenDiagnosisRow> builder)
    {
        builder.ToTable("ProvenDiagnoses");
        builder.HasKey(d => new { d.OrderId, d.Cause });
        // Holds all that the counting asks for, in the order in which it groups.
        builder.HasIndex(d => new { d.Cause, d.EngineFamily, d.OrderId });
        builder.HasOne<OrderRow>().WithMany().HasForeignKey(d => d.OrderId).OnDelete(DeleteBehavior.Restrict);
    }
}
