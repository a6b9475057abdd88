using ShopDiag.Load;

namespace ShopDiag.Web.Tests.Load;

/// <summary>The load test is worth as much as its tablets are real: what they enter over the protocol has to be in the records of the shop.</summary>
public sealed class LoadTests
{
    [Fact]
    public async Task Tablets_of_the_load_test_type_readings_that_the_records_then_have()
    {
        await using var shop = await LoadShop.StartAsync(2);
        var (lena, seen, pace) = (await shop.SignInAsync("lena"), new Seen(), new Pace(TimeSpan.Zero, TimeSpan.FromMilliseconds(10)));
        var tablets = await Task.WhenAll(shop.Orders.Select((order, i) => Tablet.OpenAsync(shop.Server, lena, order, new Random(i), pace, seen)));
        // Both go through all their tests.
        await Task.WhenAll(tablets.Select(t => t.WorkAsync(8, TestContext.Current.CancellationToken)));
        Assert.All(tablets, t => Assert.Equal(3 * 8, t.Entered));
        // Seven hundred and six hundred and something, a hundred and something psi, some percent.
        Assert.InRange(seen.Keystrokes.Count, 2 * 8 * (3 + 3 + 3 + 1), 2 * 8 * (3 + 3 + 3 + 2));
        Assert.Equal(2 * 3 * 8, await shop.ReadingsAsync());
    }
}
