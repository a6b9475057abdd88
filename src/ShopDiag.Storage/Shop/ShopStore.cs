namespace ShopDiag.Storage.Shop;

/// <summary>The shop's own settings, and how a shop comes to life.</summary>
public sealed class ShopStore
{
    /// <summary>The settings, or null on an empty data folder: nobody has chosen between the demo shop and their own yet.</summary>
    public Task<ShopSettings?> GetAsync(CancellationToken cancel = default) => throw new NotImplementedException();

    /// <summary>Saves the settings; starts the shop when there was none.</summary>
    public Task SaveAsync(ShopSettings settings, CancellationToken cancel = default) => throw new NotImplementedException();

    /// <summary>Fills an empty data folder with the invented demo shop; throws <see cref="InvalidOperationException"/> when it is not empty.</summary>
    public Task LoadDemoAsync(CancellationToken cancel = default) => throw new NotImplementedException();
}
