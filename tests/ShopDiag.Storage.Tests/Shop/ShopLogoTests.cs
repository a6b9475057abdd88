using Microsoft.Extensions.DependencyInjection;
using ShopDiag.Storage.Shop;

namespace ShopDiag.Storage.Tests.Shop;

public sealed class ShopLogoTests
{
    private static readonly byte[] First = [1, 2, 3];
    private static readonly byte[] Second = [4, 5];

    [Fact]
    public async Task It_is_kept_replaced_taken_away_and_each_of_these_is_taken_back()
    {
        await using var shop = await TestShop.OpenAsync();
        var logo = shop.Services.GetRequiredService<ShopLogo>();
        Assert.Empty(logo.Read().ToArray());

        await logo.KeepAsync(First);
        Assert.Equal(First, logo.Read().ToArray());
        await logo.UndoAsync();
        Assert.Empty(logo.Read().ToArray());
        await logo.UndoAsync();
        Assert.Equal(First, logo.Read().ToArray());

        await logo.KeepAsync(Second);
        Assert.Equal(Second, logo.Read().ToArray());
        await logo.UndoAsync();
        Assert.Equal(First, logo.Read().ToArray());

        await logo.RemoveAsync();
        Assert.Empty(logo.Read().ToArray());
        await logo.UndoAsync();
        Assert.Equal(First, logo.Read().ToArray());
    }

    [Fact]
    public async Task Taking_away_what_is_not_there_forgets_nothing()
    {
        await using var shop = await TestShop.OpenAsync();
        var logo = shop.Services.GetRequiredService<ShopLogo>();
        await logo.KeepAsync(First);
        await logo.RemoveAsync();
        await logo.RemoveAsync();
        await logo.UndoAsync();
        Assert.Equal(First, logo.Read().ToArray());
    }
}
