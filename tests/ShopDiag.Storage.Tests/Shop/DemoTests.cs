using ShopDiag.Diagnosis;
using ShopDiag.Diagnosis.Workups;
using ShopDiag.Estimates;
using ShopDiag.Storage.Estimates;
using ShopDiag.Storage.Orders;

namespace ShopDiag.Storage.Tests.Shop;

public sealed class DemoTests
{
    [Fact]
    public async Task The_demo_shop_has_orders_in_every_stage_several_engines_causes_and_two_comebacks()
    {
        await using var shop = await DemoAsync();
        Assert.True((await shop.Shop.GetAsync())!.IsDemo);
        var orders = await OrdersAsync(shop);
        Assert.True(orders.Count >= 14, "fourteen orders");
        // All that the work goes through; nothing in it was made by mistake.
        Assert.Equal(Enum.GetValues<OrderStage>().Except([OrderStage.MadeByMistake]), orders.Select(o => o.Stage).Distinct().Order());
        Assert.True(orders.Select(o => o.Vehicle.Engine?.Layout).OfType<string>().Distinct().Count() >= 6, "six layouts");
        Assert.True(orders.SelectMany(Causes).Distinct().Count() >= 8, "eight causes");
        var comebacks = orders.Where(o => o.ComebackOf is not null).ToArray();
        Assert.Equal(2, comebacks.Length);
        Assert.All(comebacks, c =>
        {
            var earlier = orders.Single(o => o.Id == c.ComebackOf);
            Assert.Equal((OrderStage.HandedOver, earlier.Vehicle.Id), (earlier.Stage, c.Vehicle.Id));
            Assert.True(earlier.Number < c.Number && earlier.CreatedAt < c.CreatedAt);
        });
    }

    [Fact]
    public async Task Everything_in_the_demo_shop_lies_around_the_moment_it_is_loaded()
    {
        await using var shop = await DemoAsync();
        var now = shop.Clock.GetUtcNow().UtcDateTime;
        foreach (var order in await OrdersAsync(shop))
        {
            Assert.True(order.CreatedAt < now);
            Assert.Equal(order.Moves.OrderBy(m => m.At), order.Moves);
            Assert.Equal((order.Moves[0].At, order.Moves[^1].Stage), (order.CreatedAt, order.Stage));
            Assert.All(order.Readings, r => Assert.InRange(r.Reading.TakenAt!.Value.UtcDateTime, order.CreatedAt, now));
            Assert.True(order.Finding is null || (order.Finding.At > order.CreatedAt && order.Finding.At < now));
            Assert.True(order.PromisedAt is null || order.PromisedAt > now);
        }
    }

    [Fact]
    public async Task Every_number_on_a_demo_car_passes_the_check_digit_and_agrees_with_its_year()
    {
        await using var shop = await DemoAsync();
        foreach (var vehicle in (await OrdersAsync(shop)).Select(o => o.Vehicle))
        {
            Assert.Equal((17, "00D"), (vehicle.Vin.Length, vehicle.Vin[..3]));
            Assert.Equal(CheckDigit(vehicle.Vin), vehicle.Vin[8]);
            Assert.Equal("ABCDEFGHJKLMNPRSTVWXY123456789"[(vehicle.Year!.Value - 1980) % 30], vehicle.Vin[9]);
            Assert.Equal(vehicle.Year >= 2010, char.IsAsciiLetter(vehicle.Vin[6]));
        }
    }

    [Fact]
    public async Task The_readings_of_each_demo_order_prove_the_finding_that_was_taken_over()
    {
        await using var shop = await DemoAsync();
        var setup = (await shop.Shop.GetAsync())!.ToSetup();
        var found = (await OrdersAsync(shop)).Where(o => o.Finding is not null).ToArray();
        Assert.Equal(12, found.Length);
        foreach (var order in found)
        {
            var assessment = Diagnostician.Assess(order.ToWorkup(setup)!, Knowledge.Shipped);
            var taken = Assert.Single(order.Finding!.Conclusion.Causes);
            var leading = assessment.Causes[0];
            Assert.Equal((order.Number, taken.Cause, taken.At), (order.Number, leading.Cause, leading.At));
            Assert.Equal((order.Number, order.Finding.UnprovenReason is null), (order.Number, leading.Proven));
            if (leading.Proven)
            {
                Assert.Equal(taken, Assert.Single(assessment.Conclusion!.Causes));
                Assert.NotEmpty(order.Finding.Conclusion.Proof);
            }
        }
    }

    [Fact]
    public async Task Demo_orders_have_the_estimate_the_approval_and_the_parts_that_fit_where_they_stand()
    {
        await using var shop = await DemoAsync();
        foreach (var order in await OrdersAsync(shop))
        {
            var needed = order.Estimate.Where(l => l is { Counts: true, Choice: LineChoice.Needed }).ToArray();
            Assert.Equal((order.Number, order.Finding is not null), (order.Number, needed.Length > 0));
            Assert.All(needed, l => Assert.True(l.PriceMinor is not null, $"{order.Number}: {l.Text} has no price"));
            Assert.Equal((order.Number, order.Stage > OrderStage.AwaitingApproval), (order.Number, order.Approval.Covers));
            Assert.All(order.Approvals, a => Assert.Equal((ApprovalWay.Phone, order.Customer.Phone, order.CreatedAt < a.At), (a.Way, a.Contact, true)));
            Assert.Equal((order.Number, order.Stage > OrderStage.AwaitingApproval), (order.Number, order.Parts.Length > 0));
            Assert.All(order.Parts, p => Assert.Equal(p.Moves.OrderBy(m => m.At), p.Moves));
            PartState[] fit = order.Stage switch
            {
                OrderStage.AwaitingParts => [PartState.Ordered, PartState.Wanted],
                OrderStage.InRepair => [PartState.Received],
                _ => [PartState.Fitted],
            };
            Assert.All(order.Parts, p => Assert.True(fit.Contains(p.State), $"{order.Number}: {p.Text} is {p.State}"));
            Assert.All(needed.Where(l => l.Kind == LineKind.Part && order.Approval.AnyYes), l => Assert.Equal(l.Thousandths / 1000, order.Parts.Where(p => p.LineId == l.Id).Sum(p => p.Quantity)));
        }
    }

    [Fact]
    public async Task Every_part_that_a_cause_names_has_a_price_in_the_demo_shop()
    {
        await using var shop = await DemoAsync();
        var prices = await ((PriceStore)shop.Services.GetService(typeof(PriceStore))!).GetAsync();
        Assert.All(Knowledge.Shipped.Causes.SelectMany(c => c.Repair.Parts), p => Assert.NotNull(prices.Find(LineKind.Part, p.Part, "")));
        Assert.All(prices.Entries.Where(e => e.Kind == LineKind.Labour), e => Assert.Contains(Knowledge.Shipped.Causes, c => c.Title == e.Name));
        Assert.NotEmpty(prices.OnEveryOrder);
    }

    [Fact]
    public async Task The_demo_shop_shows_a_contradiction_a_run_that_cannot_tell_and_a_reading_taken_back()
    {
        await using var shop = await DemoAsync();
        var setup = (await shop.Shop.GetAsync())!.ToSetup();
        var torn = (await shop.Orders.GetByNumberAsync(1014))!;
        Assert.NotEmpty(Diagnostician.Assess(torn.ToWorkup(setup)!, Knowledge.Shipped).Contradictions);
        Assert.Contains(torn.Readings, r => r.Withdrawn);
        var unclear = (await shop.Orders.GetByNumberAsync(1013))!;
        Assert.Contains(Diagnostician.Assess(unclear.ToWorkup(setup)!, Knowledge.Shipped).Findings, f => f.Outcome is null);
        var corrected = (await shop.Orders.GetByNumberAsync(1003))!;
        Assert.Contains(corrected.Readings, r => r.Superseded);
    }

    [Fact]
    public async Task The_demo_shop_goes_into_an_empty_folder_only()
    {
        await using var shop = await DemoAsync();
        var before = shop.Scalar("SELECT count(*) FROM Readings");
        await Assert.ThrowsAsync<InvalidOperationException>(() => shop.Shop.LoadDemoAsync());
        Assert.Equal(before, shop.Scalar("SELECT count(*) FROM Readings"));

        await using var own = await TestShop.OpenAsync();
        await own.Shop.SaveAsync(new() { Name = "Own shop" });
        await Assert.ThrowsAsync<InvalidOperationException>(() => own.Shop.LoadDemoAsync());
        Assert.Equal("Own shop", (await own.Shop.GetAsync())!.Name);
    }

    [Fact]
    public async Task Two_who_ask_for_the_demo_shop_at_once_get_one()
    {
        await using var shop = await TestShop.OpenAsync();
        var asked = await Task.WhenAll(Enumerable.Range(0, 2).Select(_ => Task.Run(async () => await Record.ExceptionAsync(() => shop.Shop.LoadDemoAsync()))));
        Assert.Equal(1, asked.Count(e => e is null));
        Assert.Equal(1, asked.Count(e => e is InvalidOperationException));
    }

    [Fact]
    public async Task The_next_order_after_the_demo_takes_the_next_number()
    {
        await using var shop = await DemoAsync();
        Assert.Equal((await OrdersAsync(shop)).Max(o => o.Number) + 1, (await shop.OpenOrderAsync()).Number);
    }

    private static async Task<TestShop> DemoAsync()
    {
        var shop = await TestShop.OpenAsync();
        await shop.Shop.LoadDemoAsync();
        return shop;
    }

    private static async Task<List<RepairOrder>> OrdersAsync(TestShop shop)
    {
        var orders = new List<RepairOrder>();
        for (var number = 1001; await shop.Orders.GetByNumberAsync(number) is { } order; number++)
        {
            orders.Add(order);
        }

        return orders;
    }

    private static IEnumerable<string> Causes(RepairOrder order) => order.Finding?.Conclusion.Causes.Select(c => c.Cause) ?? [];

    /// <summary>49 CFR 565.15(c): letters to digits, weights, sum modulo 11, ten is X.</summary>
    private static char CheckDigit(string vin)
    {
        const string Letters = "ABCDEFGHJKLMNPRSTUVWXYZ";
        const string Digits = "12345678123457923456789";
        int[] weights = [8, 7, 6, 5, 4, 3, 2, 10, 0, 9, 8, 7, 6, 5, 4, 3, 2];
        var rest = vin.Select((c, i) => (char.IsAsciiDigit(c) ? c : Digits[Letters.IndexOf(c, StringComparison.Ordinal)]) - '0').Zip(weights, (d, w) => d * w).Sum() % 11;
        return rest == 10 ? 'X' : (char)('0' + rest);
    }
}
