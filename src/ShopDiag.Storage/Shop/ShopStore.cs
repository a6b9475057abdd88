using System.Globalization;
using Microsoft.EntityFrameworkCore;
using ShopDiag.Storage.People;
using ShopDiag.Storage.Rows;
using ShopDiag.Storage.Writing;

namespace ShopDiag.Storage.Shop;

/// <summary>The shop's own settings, and how a shop comes to life.</summary>
public sealed class ShopStore
{
    private readonly IDbContextFactory<ShopDb> _contexts;
    private readonly ShopWriter _writer;

    internal ShopStore(IDbContextFactory<ShopDb> contexts, ShopWriter writer) => (_contexts, _writer) = (contexts, writer);

    /// <summary>The settings, or null on an empty data folder: nobody has chosen between the demo shop and their own yet.</summary>
    public async Task<ShopSettings?> GetAsync(CancellationToken cancel = default)
    {
        var db = _contexts.CreateDbContext();
        await using (db.ConfigureAwait(false))
        {
            var row = await db.Settings.AsNoTracking().SingleOrDefaultAsync(cancel).ConfigureAwait(false);
            return row?.ToRecord();
        }
    }

    /// <summary>
    /// Saves the settings; starts the shop when there was none. Throws <see cref="ArgumentException"/> for settings that cannot be:
    /// a currency that is no three capital letters, a negative rate, an unknown unit system or paper, a height that is no number.
    /// </summary>
    public Task SaveAsync(ShopSettings settings, CancellationToken cancel = default)
    {
        ArgumentNullException.ThrowIfNull(settings);
        SettingsCheck.Check(settings);
        return _writer.RunAsync(Permission.ChangeSettings, w => SaveAsync(w, settings), cancel);
    }

    /// <summary>Fills an empty data folder with the invented demo shop; throws <see cref="InvalidOperationException"/> when it is not empty.</summary>
    public Task LoadDemoAsync(CancellationToken cancel = default) => _writer.RunAsync(Permission.ChangeSettings, DemoShop.LoadAsync, cancel);

    /// <summary>
    /// Writes what is there once more, to find out whether anything can be written (<see cref="StorageTrouble"/>). Throws <see cref="StorageTroubleException"/> when it cannot.
    /// </summary>
    public Task TryWritingAsync(CancellationToken cancel = default) => _writer.RunAsync(
        Permission.KeepData,
        async w =>
        {
            if (await w.Db.Settings.SingleOrDefaultAsync().ConfigureAwait(false) is { } kept)
            {
                w.Db.Entry(kept).State = EntityState.Modified;
            }

            return true;
        },
        cancel);

    private static async Task<bool> SaveAsync(WriteScope write, ShopSettings settings)
    {
        var row = settings.ToRow();
        if (await write.Db.Settings.SingleOrDefaultAsync().ConfigureAwait(false) is { } kept)
        {
            var entry = write.Db.Entry(kept);
            entry.CurrentValues.SetValues(row);
            foreach (var property in entry.Properties.Where(p => p.IsModified))
            {
                write.Record($"set {property.Metadata.Name}", Convert.ToString(property.OriginalValue, CultureInfo.InvariantCulture), Convert.ToString(property.CurrentValue, CultureInfo.InvariantCulture));
            }

            return false;
        }

        write.Db.Settings.Add(row);
        write.Record("start shop");
        return true;
    }
}
