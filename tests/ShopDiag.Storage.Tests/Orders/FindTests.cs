using System.Collections.Immutable;
using ShopDiag.Diagnosis;
using ShopDiag.Diagnosis.BenchTests;
using ShopDiag.Storage.Orders;

namespace ShopDiag.Storage.Tests.Orders;

public sealed class FindTests
{
    [Theory]
    [InlineData("1009", "1009")]
    [InlineData("hlb5300", "1009")]
    [InlineData("HLB-53", "1009")]
    [InlineData("desmond  PIKE", "1009")]
    [InlineData("sofia marquez", "1012")]
    [InlineData("márquez", "1012")]
    [InlineData("00dhc8g3", "1009")]
    [InlineData("exhaust-valve", "1009")]
    [InlineData("Exhaust valve", "1009")]
    [InlineData("p0351", "1006")]
    [InlineData("P0305", "1007 1002")]
    [InlineData("coil-failed", "1008 1002 1001")]
    [InlineData("no such thing", "")]
    [InlineData("", "")]
    [InlineData("   ", "")]
    [InlineData("%", "")]
    [InlineData("_", "")]
    [InlineData("'", "")]
    [InlineData("'; DROP TABLE Orders; --", "")]
    [InlineData("\"", "")]
    [InlineData("\\", "")]
    [InlineData("😀", "")]
    [InlineData("codes", "")]
    public async Task The_demo_shop_is_searched_for(string text, string numbers)
    {
        await using var shop = await TestShop.OpenAsync();
        await shop.Shop.LoadDemoAsync();
        Assert.Equal(numbers, Numbers(await shop.Orders.FindAsync(text)));
    }

    [Theory]
    [InlineData("O'Brien & \"Sons\" 100% _x_ \\ 😀")]
    [InlineData("Łukasz Strauß")]
    [InlineData("%%")]
    [InlineData("Åse Ødegård")]
    public async Task A_name_full_of_signs_is_found_by_each_of_its_words_and_by_the_whole(string name)
    {
        await using var shop = await TestShop.OpenAsync();
        var order = await shop.OpenOrderAsync();
        await shop.SetAsync(await shop.OpenOrderAsync(), OrderField.CustomerName, "Plain");
        await shop.SetAsync(order, OrderField.CustomerName, name);
        foreach (var text in name.Split(' ').Append(name).Append(name.ToUpperInvariant()))
        {
            Assert.Equal("1001", Numbers(await shop.Orders.FindAsync(text)));
        }
    }

    [Fact]
    public async Task A_code_is_found_in_a_reading_as_long_as_the_reading_counts()
    {
        await using var shop = await TestShop.OpenAsync();
        var order = await shop.OpenOrderAsync();
        var codes = new NewReading
        {
            Id = Guid.NewGuid(),
            Reading = new Reading { Test = "trouble-codes", At = Place.Engine, Value = new([KeyValuePair.Create("codes", FieldValue.Of("P0420", "U0100"))]) },
        };
        await shop.Orders.AddReadingAsync(order.Id, codes);
        Assert.Equal("1001", Numbers(await shop.Orders.FindAsync("u01")));
        await shop.Orders.AddReadingAsync(order.Id, codes with { Id = Guid.NewGuid(), SupersedesId = codes.Id, Withdrawn = true });
        Assert.Empty(await shop.Orders.FindAsync("u01"));
    }

    [Fact]
    public async Task A_cause_is_no_longer_found_once_its_finding_is_taken_back()
    {
        await using var shop = await TestShop.OpenAsync();
        await shop.Shop.LoadDemoAsync();
        var order = (await shop.Orders.GetByNumberAsync(1012))!;
        await shop.Orders.SetFindingAsync(order.Id, null, Guid.NewGuid());
        Assert.Empty(await shop.Orders.FindAsync("rings"));
    }

    [Fact]
    public async Task At_most_fifty_orders_are_answered_newest_first()
    {
        await using var shop = await TestShop.OpenAsync();
        for (var i = 0; i < 52; i++)
        {
            await shop.SetAsync(await shop.OpenOrderAsync(), OrderField.CustomerName, "Same Name");
            shop.Clock.Advance(TimeSpan.FromMinutes(1));
        }

        var found = await shop.Orders.FindAsync("same");
        Assert.Equal(Enumerable.Range(1003, 50).Reverse(), found.Select(o => o.Number));
    }

    [Fact]
    public async Task What_is_in_the_building_comes_oldest_promise_first_and_without_a_promise_by_age()
    {
        await using var shop = await TestShop.OpenAsync();
        foreach (var promise in new[] { "", "2026-03-04T10:00:00Z", "2026-03-03T10:00:00Z", "", "2026-03-05T10:00:00Z" })
        {
            await shop.SetAsync(await shop.OpenOrderAsync(), OrderField.PromisedAt, promise);
            shop.Clock.Advance(TimeSpan.FromMinutes(1));
        }

        var last = (await shop.Orders.GetByNumberAsync(1005))!;
        await shop.Orders.MoveAsync(last.Id, OrderStage.HandedOver, "Ruth", "", Guid.NewGuid());
        Assert.Equal("1003 1002 1001 1004", Numbers(await shop.Orders.OpenOrdersAsync()));
    }

    [Fact]
    public async Task A_line_of_the_list_says_what_the_order_says()
    {
        await using var shop = await TestShop.OpenAsync();
        await shop.Shop.LoadDemoAsync();
        var order = (await shop.Orders.GetByNumberAsync(1007))!;
        var line = Assert.Single(await shop.Orders.OpenOrdersAsync(), o => o.Number == 1007);
        Assert.Equal((order.Id, order.Stage, order.PromisedAt, order.CreatedAt), (line.Id, line.Stage, line.PromisedAt, line.CreatedAt));
        Assert.Equal(("QHV 2093", "2018 Osprel Van 3.6", "Bright Fork Bakery", "Lena"), (line.Plate, line.Car, line.CustomerName, line.Technician));
        Assert.Equal((order.ConcernText, order.ComebackOf), (line.ConcernText, line.ComebackOf));
        Assert.Equal(["intake-leak-runner"], line.Causes);
        Assert.Equal(DateTimeKind.Utc, line.PromisedAt!.Value.Kind);
    }

    private static string Numbers(ImmutableArray<OrderSummary> found) => string.Join(' ', found.Select(o => o.Number));
}
