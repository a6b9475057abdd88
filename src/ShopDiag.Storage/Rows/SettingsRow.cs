using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;

namespace ShopDiag.Storage.Rows;

/// <summary>The shop's settings: one row.</summary>
internal sealed class SettingsRow
{
    /// <summary>The only key there is.</summary>
    public const int OnlyId = 1;

    public int Id { get; set; } = OnlyId;

    public string Name { get; set; } = "";

    public string Address { get; set; } = "";

    public string Phone { get; set; } = "";

    public string Currency { get; set; } = "";

    public long LabourPerHourMinor { get; set; }

    public string UnitSystem { get; set; } = "";

    /// <summary>Units by quantity as a JSON object.</summary>
    public string UnitsJson { get; set; } = "{}";

    public string Paper { get; set; } = "";

    public double AltitudeMetres { get; set; }

    public bool AltitudeByDensity { get; set; }

    /// <summary>Tools as a JSON list.</summary>
    public string ToolsJson { get; set; } = "[]";

    /// <summary>True unless the shop keeps the priors as shipped.</summary>
    public bool LearnFromCases { get; set; } = true;

    public int LockAfterMinutes { get; set; }

    public bool IsDemo { get; set; }

    public int ComebackDays { get; set; }

    public int? ComebackKilometres { get; set; }

    /// <summary>Taxes, supplies and terms (<see cref="ShopDiag.Estimates.ShopPricing"/>) as JSON.</summary>
    public string PricingJson { get; set; } = "{}";

    /// <summary>Backups and how long customers are kept (<see cref="ShopDiag.Storage.Shop.Keeping"/>) as JSON.</summary>
    public string KeepingJson { get; set; } = "{}";
}

internal sealed class SettingsTable : IEntityTypeConfiguration<SettingsRow>
{
    public void Configure(EntityTypeBuilder<SettingsRow> builder)
    {
        builder.ToTable("Settings", t =>
        {
            t.HasCheckConstraint("CK_Settings_OnlyOne", "Id = 1");
            t.HasCheckConstraint("CK_Settings_LabourPerHourMinor", "typeof(LabourPerHourMinor) = 'integer' AND LabourPerHourMinor >= 0");
            t.HasCheckConstraint("CK_Settings_UnitSystem", "UnitSystem IN ('metric', 'us')");
            t.HasCheckConstraint("CK_Settings_Paper", "Paper IN ('letter', 'a4')");
            t.HasCheckConstraint("CK_Settings_Currency", "length(Currency) = 3");
            t.HasCheckConstraint("CK_Settings_Comebacks", "ComebackDays BETWEEN 1 AND 3650 AND (ComebackKilometres IS NULL OR ComebackKilometres BETWEEN 1 AND 1000000)");
            t.HasCheckConstraint("CK_Settings_KeepingJson", "json_valid(KeepingJson)");
            t.HasCheckConstraint("CK_Settings_Lock", "LockAfterMinutes BETWEEN 0 AND 240");
            t.HasCheckConstraint("CK_Settings_Json", "json_valid(UnitsJson) AND json_valid(ToolsJson) AND json_valid(PricingJson)");
        });
        builder.Property(s => s.Id).ValueGeneratedNever();
        builder.Property(s => s.PricingJson).HasDefaultValue("{}");
        builder.Property(s => s.KeepingJson).HasDefaultValue("{}");
        builder.Property(s => s.LockAfterMinutes).HasDefaultValue(10).HasSentinel(-1);
    }
}
