using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;
using ShopDiag.Storage.People;

namespace ShopDiag.Storage.Rows;

/// <summary>Something that was done. Rows are only ever added: triggers of the database refuse a change or a deletion.</summary>
internal sealed class AuditRow
{
    private const int MostLetters = 400;

    public long Sequence { get; set; }

    public DateTime At { get; set; }

    public Guid? OrderId { get; set; }

    /// <summary>The command, made by the client; null where there was none.</summary>
    public Guid? CommandId { get; set; }

    /// <summary>The person who was signed in; null for the program and for rows from before people signed in.</summary>
    public Guid? PersonId { get; set; }

    /// <summary>Their name at the time.</summary>
    public string Who { get; set; } = "";

    public SignInWay Way { get; set; }

    public string Device { get; set; } = "";

    public string What { get; set; } = "";

    public string? Before { get; set; }

    public string? After { get; set; }

    /// <summary>A row for what an actor does.</summary>
    public static AuditRow Of(Actor actor, DateTime at, string who, string what, string? before, string? after) => new()
    {
        At = at, PersonId = actor.PersonId, Who = who, Way = actor.Way, Device = actor.Device, What = what, Before = Cut(before), After = Cut(after),
    };

    private static string? Cut(string? text) => text?.Length > MostLetters ? text[..MostLetters] + "…" : text;
}

internal sealed class AuditTable : IEntityTypeConfiguration<AuditRow>
{
    public void Configure(EntityTypeBuilder<AuditRow> builder)
    {
        builder.ToTable("Audit");
        builder.HasKey(a => a.Sequence);
        builder.Property(a => a.Sequence).ValueGeneratedOnAdd();
        builder.Property(a => a.Way).HasConversion<string>();
        builder.HasIndex(a => new { a.OrderId, a.Sequence });
        builder.HasOne<OrderRow>().WithMany().HasForeignKey(a => a.OrderId).OnDelete(DeleteBehavior.Restrict);
    }
}
