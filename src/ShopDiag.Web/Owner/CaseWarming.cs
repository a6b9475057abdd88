using ShopDiag.Storage.Comebacks;
using ShopDiag.Storage.Shop;

namespace ShopDiag.Web.Owner;

/// <summary>Reads the shop's cases ahead once it is open: of a large shop that takes a second or two, which nobody should wait for on the first figures of the day.</summary>
internal sealed class CaseWarming(ComebackStore store, ShopStore shops, TimeProvider time, ILogger<CaseWarming> log) : BackgroundService
{
    /// <inheritdoc/>
    protected override async Task ExecuteAsync(CancellationToken stoppingToken)
    {
        try
        {
            // Pages come first.
            await Task.Delay(TimeSpan.FromSeconds(2), time, stoppingToken);
            await store.CasesAsync(time.LocalTimeZone, (await shops.GetAsync(stoppingToken) ?? new ShopSettings()).ComebackWindow, stoppingToken);
        }
        catch (OperationCanceledException) when (stoppingToken.IsCancellationRequested)
        {
            // The shop closes again.
        }
#pragma warning disable CA1031 // Whatever is wrong will be said where the figures are asked for; the shop opens all the same.
        catch (Exception e)
#pragma warning restore CA1031
        {
            log.LogWarning(e, "The cases could not be read ahead");
        }
    }
}
