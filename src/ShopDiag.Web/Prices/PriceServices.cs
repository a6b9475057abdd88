using ShopDiag.Estimates;
using ShopDiag.Storage.Estimates;
using ShopDiag.Storage.Orders;
using ShopDiag.Web.Orders;
using ShopDiag.Web.Saving;

namespace ShopDiag.Web.Prices;

/// <summary>Puts an entry on the price list.</summary>
/// <param name="Entry">The entry.</param>
/// <param name="Replaces">Key of the entry whose place it takes; empty for a new one.</param>
public sealed record SavePrice(PriceEntry Entry, string Replaces);

/// <summary>Takes an entry off the price list.</summary>
/// <param name="Key">Its key.</param>
public sealed record RemovePrice(string Key);

/// <summary>What the page of prices needs.</summary>
public static class PriceServices
{
    /// <summary>Kind of the command that saves an entry.</summary>
    public const string Save = "price list";

    /// <summary>Kind of the command that takes an entry off.</summary>
    public const string Remove = "price taken off";

    /// <summary>Adds the handlers of commands.</summary>
    public static IServiceCollection AddPricePage(this IServiceCollection services) => services
        .AddScoped<ICommandHandler>(s => new JsonCommandHandler<SavePrice>(Save, (c, _, cancel) => Store(s).SaveAsync(c.Entry, c.Replaces, cancel)))
        .AddScoped<ICommandHandler>(s => new JsonCommandHandler<RemovePrice>(Remove, async (c, _, cancel) =>
            new SaveResult(await Store(s).RemoveAsync(c.Key, cancel) ? SaveOutcome.Saved : SaveOutcome.AlreadySaved, "")));

    private static PriceStore Store(IServiceProvider services) => services.GetRequiredService<PriceStore>();
}
