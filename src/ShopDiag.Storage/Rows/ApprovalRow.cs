using System.Collections.Immutable;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;
using ShopDiag.Estimates;
using ShopDiag.Storage.Json;

namespace ShopDiag.Storage.Rows;

/// <summary>An approval as a row. Rows are added, never changed.</summary>
internal sealed class ApprovalRow
{
    public Guid Id { get; set; }

    public Guid OrderId { get; set; }

    /// <summary>Running number within the order, from 1.</summary>
    public int Sequence { get; set; }

    public DateTime At { get; set; }

    public string By { get; set; } = "";

    public string Person { get; set; } = "";

    public ApprovalWay Way { get; set; }

    public string Contact { get; set; } = "";

    public string Note { get; set; } = "";

    public string DecisionsJson { get; set; } = "[]";

    public string? SignatureJson { get; set; }

    public bool OldPartsBack { get; set; }

    public string Terms { get; set; } = "";

    public Approval ToRecord() => new()
    {
        Id = Id,
        At = At,
        By = By,
        Person = Person,
        Way = Way,
        Contact = Contact,
        Note = Note,
        Decisions = StorageJson.Read<ImmutableArray<LineDecision>>(DecisionsJson),
        Signature = SignatureJson is null ? null : StorageJson.Read<Signature>(SignatureJson),
        OldPartsBack = OldPartsBack,
        Terms = Terms,
    };

    public static ApprovalRow Of(Approval approval, Guid order, int sequence) => new()
    {
        Id = approval.Id,
        OrderId = order,
        Sequence = sequence,
        At = approval.At,
        By = approval.By,
        Person = approval.Person,
        Way = approval.Way,
        Contact = approval.Contact,
        Note = approval.Note,
        DecisionsJson = StorageJson.Write(approval.Decisions),
        SignatureJson = approval.Signature is null ? null : StorageJson.Write(approval.Signature),
        OldPartsBack = approval.OldPartsBack,
        Terms = approval.Terms,
    };
}

internal sealed class ApprovalTable : IEntityTypeConfiguration<ApprovalRow>
{
    public void Configure(EntityTypeBuilder<ApprovalRow> builder)
    {
        builder.ToTable("Approvals", t => t.HasCheckConstraint("CK_Approvals_Json", "json_valid(DecisionsJson) AND (SignatureJson IS NULL OR json_valid(SignatureJson))"));
        builder.Property(a => a.Way).HasConversion<string>();
        builder.HasIndex(a => new { a.OrderId, a.Sequence }).IsUnique();
        builder.HasOne<OrderRow>().WithMany(o => o.Approvals).HasForeignKey(a => a.OrderId).OnDelete(DeleteBehavior.Restrict);
    }
}
