using System.Collections.Immutable;
using ShopDiag.Diagnosis.Workups;
using ShopDiag.Estimates;
using ShopDiag.Storage.Json;
using ShopDiag.Storage.Shop;

namespace ShopDiag.Storage.Rows;

/// <summary>Settings: row to record and record to row.</summary>
internal static class SettingsMap
{
    public static ShopSettings ToRecord(this SettingsRow row) => new()
    {
        Name = row.Name,
        Address = row.Address,
        Phone = row.Phone,
        Currency = row.Currency,
        LabourPerHourMinor = row.LabourPerHourMinor,
        UnitSystem = row.UnitSystem,
        Units = StorageJson.Read<ImmutableDictionary<string, string>>(row.UnitsJson),
        Paper = row.Paper,
        AltitudeMetres = row.AltitudeMetres,
        AltitudeRule = row.AltitudeByDensity ? AltitudeRule.DensityRatio : AltitudeRule.PressureRatio,
        Tools = StorageJson.Read<ImmutableArray<string>>(row.ToolsJson),
        LearnFromCases = row.LearnFromCases,
        LockAfterMinutes = row.LockAfterMinutes,
        IsDemo = row.IsDemo,
        ComebackDays = row.ComebackDays,
        ComebackKilometres = row.ComebackKilometres,
        Pricing = StorageJson.Read<ShopPricing>(row.PricingJson),
        Keeping = StorageJson.Read<Keeping>(row.KeepingJson),
    };

    public static SettingsRow ToRow(this ShopSettings settings) => new()
    {
        Name = settings.Name,
        Address = settings.Address,
        Phone = settings.Phone,
        Currency = settings.Currency,
        LabourPerHourMinor = settings.LabourPerHourMinor,
        UnitSystem = settings.UnitSystem,
        UnitsJson = StorageJson.Write(settings.Units),
        Paper = settings.Paper,
        AltitudeMetres = settings.AltitudeMetres,
        AltitudeByDensity = settings.AltitudeRule == AltitudeRule.DensityRatio,
        ToolsJson = StorageJson.Write(settings.Tools),
        LearnFromCases = settings.LearnFromCases,
        LockAfterMinutes = settings.LockAfterMinutes,
        IsDemo = settings.IsDemo,
        ComebackDays = settings.ComebackDays,
        ComebackKilometres = settings.ComebackKilometres,
        PricingJson = StorageJson.Write(settings.Pricing),
        KeepingJson = StorageJson.Write(settings.Keeping),
    };
}
