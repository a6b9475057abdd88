using Microsoft.EntityFrameworkCore.Design;
using ShopDiag.Storage.Rows;

namespace ShopDiag.Storage.Opening;

/// <summary>Lets <c>dotnet ef migrations add</c> work on this project alone. The database it names is never opened.</summary>
internal sealed class DesignTimeFactory : IDesignTimeDbContextFactory<ShopDb>
{
    /// <inheritdoc/>
    public ShopDb CreateDbContext(string[] args) => new(ShopDbFactory.Options("Data Source=:memory:"));
}
