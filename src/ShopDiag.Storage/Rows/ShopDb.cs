using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Storage.ValueConversion;

namespace ShopDiag.Storage.Rows;

/// <summary>The shop's database. A context lives for one operation; only the write queue saves through one.</summary>
internal sealed class ShopDb(DbContextOptions<ShopDb> options) : DbContext(options)
{
    public DbSet<CustomerRow> Customers => Set<CustomerRow>();

    public DbSet<VehicleRow> Vehicles => Set<VehicleRow>();

    public DbSet<OrderRow> Orders => Set<OrderRow>();

    public DbSet<ReadingRow> Readings => Set<ReadingRow>();

    public DbSet<ObstacleRow> Obstacles => Set<ObstacleRow>();

    public DbSet<FindingRow> Findings => Set<FindingRow>();

    public DbSet<ProvenDiagnosisRow> ProvenDiagnoses => Set<ProvenDiagnosisRow>();

    public DbSet<CaseRow> Cases => Set<CaseRow>();

    public DbSet<StageMoveRow> Moves => Set<StageMoveRow>();

    public DbSet<AppliedCommandRow> AppliedCommands => Set<AppliedCommandRow>();

    public DbSet<RecordingRow> Recordings => Set<RecordingRow>();

    public DbSet<EstimateRow> Estimates => Set<EstimateRow>();

    public DbSet<ApprovalRow> Approvals => Set<ApprovalRow>();

    public DbSet<PartRow> Parts => Set<PartRow>();

    public DbSet<PriceRow> Prices => Set<PriceRow>();

    public DbSet<PhotoRow> Photos => Set<PhotoRow>();

    public DbSet<ErasureRow> Erasures => Set<ErasureRow>();
    public DbSet<PersonRow> People => Set<PersonRow>();

    public DbSet<DeviceRow> Devices => Set<DeviceRow>();

    public DbSet<TokenRow> Tokens => Set<TokenRow>();

    public DbSet<AuditRow> Audit => Set<AuditRow>();

    public DbSet<LogoRow> Logos => Set<LogoRow>();

    public DbSet<SettingsRow> Settings => Set<SettingsRow>();

    protected override void OnModelCreating(ModelBuilder modelBuilder)
    {
        modelBuilder.ApplyConfigurationsFromAssembly(typeof(ShopDb).Assembly);
        modelBuilder.HasDbFunction(typeof(SearchText).GetMethod(nameof(SearchText.Fold))!).HasName(SearchText.FoldFunction);
        modelBuilder.HasDbFunction(typeof(SearchText).GetMethod(nameof(SearchText.Key))!).HasName(SearchText.KeyFunction);
    }

    protected override void ConfigureConventions(ModelConfigurationBuilder configurationBuilder) =>
        configurationBuilder.Properties<DateTime>().HaveConversion<UtcConverter>();

    /// <summary>SQLite hands times back without their kind; without this a page would take UTC for local time.</summary>
    private sealed class UtcConverter() : ValueConverter<DateTime, DateTime>(
        written => Utc(written),
        read => DateTime.SpecifyKind(read, DateTimeKind.Utc))
    {
        private static DateTime Utc(DateTime time) => time.Kind == DateTimeKind.Utc
            ? time
            : throw new ArgumentException($"Times are kept in UTC; this one is {time.Kind}.", nameof(time));
    }
}
