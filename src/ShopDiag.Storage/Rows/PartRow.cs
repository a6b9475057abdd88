using System.Collections.Immutable;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;
using ShopDiag.Estimates;
using ShopDiag.Storage.Json;

namespace ShopDiag.Storage.Rows;

/// <summary>A part on its way to a car as a row.</summary>
internal sealed class PartRow
{
    public Guid Id { get; set; }

    public Guid OrderId { get; set; }

    public OrderRow? Order { get; set; }

    public Guid LineId { get; set; }

    /// <summary>Running number within the order, from 1: the order in which parts are shown.</summary>
    public int Sequence { get; set; }

    public string Text { get; set; } = "";

    public string Position { get; set; } = "";

    public string MustMatch { get; set; } = "";

    public bool Together { get; set; }

    public int Quantity { get; set; }

    public PartState State { get; set; }

    public string Vendor { get; set; } = "";

    public string Maker { get; set; } = "";

    public string PartNumber { get; set; } = "";

    public DateOnly? ExpectedOn { get; set; }

    public long CoreMinor { get; set; }

    public bool CoreBack { get; set; }

    public bool Unproven { get; set; }

    public string MovesJson { get; set; } = "[]";

    /// <summary>Notes where it is now.</summary>
    public void Move(PartState state, DateTime now, string by)
    {
        State = state;
        MovesJson = StorageJson.Write(Moves().Add(new PartMove(state, Quantity, now, by)));
    }

    public PartOnOrder ToRecord() => new()
    {
        Id = Id,
        OrderId = OrderId,
        LineId = LineId,
        Text = Text,
        Position = Position,
        MustMatch = MustMatch,
        Together = Together,
        Quantity = Quantity,
        State = State,
        Vendor = Vendor,
        Maker = Maker,
        PartNumber = PartNumber,
        ExpectedOn = ExpectedOn,
        CoreMinor = CoreMinor,
        CoreBack = CoreBack,
        Unproven = Unproven,
        Moves = Moves(),
    };

    /// <summary>A part that a line asks for, wanted from now on.</summary>
    public static PartRow Wanted(Guid id, Guid order, int sequence, EstimateLine line, int quantity, DateTime now, string by)
    {
        var row = new PartRow
        {
            Id = id,
            OrderId = order,
            LineId = line.Id,
            Sequence = sequence,
            Text = line.Text,
            Position = line.Position,
            MustMatch = line.MustMatch,
            Together = line.Together,
            Quantity = quantity,
            Vendor = line.Vendor,
            Maker = line.Maker,
            PartNumber = line.PartNumber,
            CoreMinor = line.CoreMinor,
            Unproven = line.Unproven,
        };
        row.Move(PartState.Wanted, now, by);
        return row;
    }

    private ImmutableArray<PartMove> Moves() => StorageJson.Read<ImmutableArray<PartMove>>(MovesJson);
}

internal sealed class PartTable : IEntityTypeConfiguration<PartRow>
{
    public void Configure(EntityTypeBuilder<PartRow> builder)
    {
        builder.ToTable("Parts", t =>
        {
            t.HasCheckConstraint("CK_Parts_Quantity", "typeof(Quantity) = 'integer' AND Quantity >= 1");
            t.HasCheckConstraint("CK_Parts_CoreMinor", "typeof(CoreMinor) = 'integer' AND CoreMinor >= 0");
            t.HasCheckConstraint("CK_Parts_MovesJson", "json_valid(MovesJson)");
        });
        builder.Property(p => p.State).HasConversion<string>();
        builder.HasIndex(p => new { p.OrderId, p.Sequence }).IsUnique();
        builder.HasIndex(p => p.State);
        builder.HasOne(p => p.Order).WithMany(o => o.Parts).HasForeignKey(p => p.OrderId).OnDelete(DeleteBehavior.Restrict);
    }
}
