using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;

namespace ShopDiag.Storage.Rows;

/// <summary>A vehicle as a row.</summary>
internal sealed class VehicleRow
{
    public Guid Id { get; set; }

    /// <summary>Whose it is now: the customer that comes along when a known vehicle is put on an order.</summary>
    public Guid CustomerId { get; set; }

    public CustomerRow? Customer { get; set; }

    public string Plate { get; set; } = "";

    public string Vin { get; set; } = "";

    /// <summary>The plate as it is looked for, so that a known car is found by an index. It follows the plate and is only ever written.</summary>
    public string PlateKey
    {
        get => SearchText.Key(Plate);
        private set { }
    }

    /// <summary>The VIN likewise.</summary>
    public string VinKey
    {
        get => SearchText.Key(Vin);
        private set { }
    }

    public string Description { get; set; } = "";

    public int? Year { get; set; }

    /// <summary>The engine's description as JSON (<see cref="Json.StorageJson"/>), or null while not chosen.</summary>
    public string? EngineJson { get; set; }

    public string EngineTitle { get; set; } = "";
}

internal sealed class VehicleTable : IEntityTypeConfiguration<VehicleRow>
{
    public void Configure(EntityTypeBuilder<VehicleRow> builder)
    {
        builder.ToTable("Vehicles", t =>
        {
            t.HasCheckConstraint("CK_Vehicles_Year", "Year IS NULL OR (typeof(Year) = 'integer' AND Year BETWEEN 1950 AND 2100)");
            t.HasCheckConstraint("CK_Vehicles_EngineJson", "EngineJson IS NULL OR json_valid(EngineJson)");
        });
        builder.Property(v => v.PlateKey).HasDefaultValue("").ValueGeneratedNever();
        builder.Property(v => v.VinKey).HasDefaultValue("").ValueGeneratedNever();
        builder.HasIndex(v => v.PlateKey);
        builder.HasIndex(v => v.VinKey);
        builder.HasOne(v => v.Customer).WithMany().HasForeignKey(v => v.CustomerId).OnDelete(DeleteBehavior.Restrict);
    }
}
