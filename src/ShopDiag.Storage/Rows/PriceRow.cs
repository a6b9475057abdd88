using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;
using ShopDiag.Estimates;

namespace ShopDiag.Storage.Rows;

/// <summary>An entry of the shop's own list of prices and labour times as a row.</summary>
internal sealed class PriceRow
{
    /// <summary><see cref="PriceEntry.Key"/>.</summary>
    public string Key { get; set; } = "";

    public LineKind Kind { get; set; }

    public string Name { get; set; } = "";

    public string For { get; set; } = "";

    public long? PriceMinor { get; set; }

    public long CoreMinor { get; set; }

    public double? Minutes { get; set; }

    public string Vendor { get; set; } = "";

    public string Maker { get; set; } = "";

    public string PartNumber { get; set; } = "";

    public bool EveryOrder { get; set; }

    public PriceEntry ToRecord() => new()
    {
        Kind = Kind, Name = Name, For = For, PriceMinor = PriceMinor, CoreMinor = CoreMinor, Minutes = Minutes, Vendor = Vendor, Maker = Maker, PartNumber = PartNumber, EveryOrder = EveryOrder,
    };

    public static PriceRow Of(PriceEntry entry) => new()
    {
        Key = entry.Key,
        Kind = entry.Kind,
        Name = entry.Name,
        For = entry.For,
        PriceMinor = entry.PriceMinor,
        CoreMinor = entry.CoreMinor,
        Minutes = entry.Minutes,
        Vendor = entry.Vendor,
        Maker = entry.Maker,
        PartNumber = entry.PartNumber,
        EveryOrder = entry.EveryOrder,
    };
}

internal sealed class PriceTable : IEntityTypeConfiguration<PriceRow>
{
    public void Configure(EntityTypeBuilder<PriceRow> builder)
    {
        builder.ToTable("Prices", t => t.HasCheckConstraint("CK_Prices_Amounts", "(PriceMinor IS NULL OR (typeof(PriceMinor) = 'integer' AND PriceMinor >= 0)) AND typeof(CoreMinor) = 'integer' AND CoreMinor >= 0"));
        builder.HasKey(p => p.Key);
        builder.Property(p => p.Kind).HasConversion<string>();
    }
}
