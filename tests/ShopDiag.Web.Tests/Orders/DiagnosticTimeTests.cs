using ShopDiag.Diagnosis;
using ShopDiag.Diagnosis.BenchTests;
using ShopDiag.Diagnosis.Workups;
using ShopDiag.Storage.Orders;
using ShopDiag.Web.Orders;
using ShopDiag.Web.Tests.Support;

namespace ShopDiag.Web.Tests.Orders;

/// <summary>Authorised diagnostic time against minutes on the bench.</summary>
public sealed class DiagnosticTimeTests
{
    [Theory]
    [InlineData(0, 60, 15, "", "")]
    [InlineData(20, 60, 15, "About 20 min on the bench of 60 authorised", "")]
    [InlineData(45, 60, 15, "About 45 min on the bench of 60 authorised", "")]
    [InlineData(46, 60, 15, "About 46 min on the bench of 60 authorised", "the next step takes about 15 more, so ask first")]
    [InlineData(60, 60, 0, "About 60 min on the bench of 60 authorised", "")]
    [InlineData(61, 60, 0, "About 61 min on the bench of 60 authorised", "ask before going on")]
    [InlineData(300, 0, 15, "About 300 min on the bench", "")]
    public void It_warns_before_the_time_runs_out_and_says_nothing_where_none_was_agreed(double spent, int authorised, double next, string words, string warning)
    {
        var time = new DiagnosticTime(spent, authorised, next, ByHand: false);
        Assert.Equal((words, warning), (time.InWords, time.Warning));
    }

    [Fact]
    public void What_the_technician_says_goes_before_what_readings_usually_take() =>
        Assert.Equal("50 min on the bench of 60 authorised", new DiagnosticTime(50, 60, 0, ByHand: true).InWords);

    [Fact]
    public async Task Readings_count_and_after_a_finding_no_further_step_does()
    {
        await using var shop = await TestShop.OpenAsync();
        var order = await shop.NewOrderAsync((OrderField.AuthorisedMinutes, "10"));
        await shop.PutEngineAsync(order.Id, Knowledge.Shipped.Profiles[0].Id);
        Assert.Equal(0, (await OfAsync(shop, order.Id)).Spent);
        var reading = new Reading { Test = "compression-dry", At = Place.Cylinder(1), Value = new([KeyValuePair.Create("kPa", FieldValue.Of(1200))]), By = "Ann" };
        await shop.Orders.AddReadingAsync(order.Id, new() { Id = Guid.NewGuid(), Reading = reading });
        var read = await OfAsync(shop, order.Id);
        Assert.True(read.Spent > 0 && read.Next > 0, $"{read}");

        var conclusion = new Conclusion([new("coil-failed", Place.Cylinder(1))], [new("coil-swap", Place.Cylinder(1), "follows", "It went along.")], new Repair("Replace it.", [], 20, []));
        await shop.Orders.SetFindingAsync(order.Id, new OrderFinding { Conclusion = conclusion, Probability = 0.97, At = shop.Time.GetUtcNow().UtcDateTime, By = "Ann" }, Guid.NewGuid());
        Assert.Equal(0, (await OfAsync(shop, order.Id)).Next);
        await shop.SetAsync(order.Id, OrderField.MinutesSpent, "7");
        Assert.Equal((7, true), ((await OfAsync(shop, order.Id)).Spent, (await OfAsync(shop, order.Id)).ByHand));
    }

    private static async Task<DiagnosticTime> OfAsync(TestShop shop, Guid id)
    {
        var order = (await shop.Orders.GetAsync(id))!;
        return DiagnosticTime.Of(order, OrderWorkup.From(order, new()) is { } workup ? Diagnostician.Assess(workup, Knowledge.Shipped) : null, Knowledge.Shipped);
    }
}
