using Microsoft.EntityFrameworkCore;
using ShopDiag.Storage.Rows;

namespace ShopDiag.Storage.Opening;

/// <summary>Makes a context for one operation; refuses until the shop has been opened.</summary>
internal sealed class ShopDbFactory(ShopFolder folder) : IDbContextFactory<ShopDb>
{
    private static readonly ConnectionSetup Setup = new();
    private readonly Lazy<DbContextOptions<ShopDb>> _options = new(() => Options(folder.ConnectionString));
    private readonly Lazy<DbContextOptions<ShopDb>> _readOnly = new(() => Options(folder.ConnectionString));

    /// <inheritdoc/>
    public ShopDb CreateDbContext() => folder.IsReady
        ? new ShopDb(Current)
        : throw new InvalidOperationException($"The shop in {folder.FullPath} has not been opened; call {nameof(StorageServices.OpenShopAsync)} first.");

    /// <summary>A context on a database that may not be up to date, for <see cref="ShopOpening"/> alone.</summary>
    internal ShopDb CreateForOpening() => new(Current);

    private DbContextOptions<ShopDb> Current => (folder.IsReadOnly ? _readOnly : _options).Value;

    /// <summary>The options on any database of ours.</summary>
    internal static DbContextOptions<ShopDb> Options(string connectionString) => new DbContextOptionsBuilder<ShopDb>()
        .UseSqlite(connectionString)
        .AddInterceptors(Setup)
        .Options;
}
