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

        logo.Keep(First);
        Assert.Equal(First, logo.Read().ToArray());
        logo.Undo();
        Assert.Empty(logo.Read().ToArray());
        logo.Undo();
        Assert.Equal(First, logo.Read().ToArray());

        logo.Keep(Second);
        Assert.Equal(Second, logo.Read().ToArray());
        logo.Undo();
        Assert.Equal(First, logo.Read().ToArray());

        logo.Remove();
        Assert.Empty(logo.Read().ToArray());
        logo.Undo();
        Assert.Equal(First, logo.Read().ToArray());
        Assert.Equal(["logo.png"], Directory.GetFiles(shop.Folder, "logo*").Select(Path.GetFileName));
    }

    [Fact]
    public async Task Taking_away_what_is_not_there_forgets_nothing()
    {
        await using var shop = await TestShop.OpenAsync();
        var logo = shop.Services.GetRequiredService<ShopLogo>();
        logo.Keep(First);
        logo.Remove();
        logo.Remove();
        logo.Undo();
        Assert.Equal(First, logo.Read().ToArray());
    }
}
