using ShopDiag.Storage.Shop;
using ShopDiag.Storage.Writing;

namespace ShopDiag.Web.Keeping;

/// <summary>While nothing can be written, tries again and again, so that pages hear when it is over though nobody saves anything.</summary>
public sealed class TroubleWatch(StorageTrouble trouble, ShopStore shops, TimeProvider time) : BackgroundService
{
    private static readonly TimeSpan TryEvery = TimeSpan.FromSeconds(5);

    /// <inheritdoc/>
    protected override async Task ExecuteAsync(CancellationToken stoppingToken)
    {
        using var timer = new PeriodicTimer(TryEvery, time);
        while (await timer.WaitForNextTickAsync(stoppingToken))
        {
            if (trouble.Message is not null)
            {
                try
                {
                    await shops.TryWritingAsync(stoppingToken);
                }
                catch (StorageTroubleException)
                {
                    // Still so; the next try comes.
                }
            }
        }
    }
}
