using Microsoft.Extensions.Time.Testing;
using ShopDiag.Storage.Orders;
using ShopDiag.Storage.Shop;
using ShopDiag.Web.Orders;

namespace ShopDiag.Web.Tests.Orders;

public sealed class OrderWordsTests
{
    [Fact]
    public void Every_stage_has_words_of_its_own_and_all_but_the_last_wait_for_something()
    {
        Assert.Equal(StageWords.All.Length, StageWords.All.Select(StageWords.Of).Distinct().Count());
        Assert.Equal(StageWords.All.Length, StageWords.All.Select(StageWords.StepTo).Distinct().Count());
        Assert.Equal([OrderStage.HandedOver], StageWords.All.Where(s => StageWords.WaitsFor(s).Length == 0));
        Assert.Equal([OrderStage.MadeByMistake], Enum.GetValues<OrderStage>().Except(StageWords.All));
        Assert.DoesNotContain(StageWords.Of(OrderStage.MadeByMistake), StageWords.All.Select(StageWords.Of));
    }

    [Fact]
    public void The_next_stages_lead_through_all_of_them()
    {
        var way = new List<OrderStage> { OrderStage.WrittenUp };
        while (StageWords.Next(way[^1]) is { } next)
        {
            way.Add(next);
        }

        Assert.Equal(StageWords.All, way);
    }

    [Theory]
    [InlineData(OrderStage.HandedOver)]
    [InlineData(OrderStage.MadeByMistake)]
    public void Nothing_comes_after_an_order_that_is_closed(OrderStage stage)
    {
        Assert.Null(StageWords.Next(stage));
        Assert.False(stage.IsOpen());
    }

    [Theory]
    [InlineData("", "")]
    [InlineData("shakes at idle", "shakes at idle")]
    [InlineData("one two  three\nfour five six", "one two three four five six")]
    [InlineData("one two three four five six seven", "one two three four five six\u00A0…")]
    public void A_concern_is_cut_at_six_words(string concern, string expected) => Assert.Equal(expected, StageWords.SixWords(concern));

    [Theory]
    [InlineData("2026-03-05T16:30", "us", "today 4:30 PM")]
    [InlineData("2026-03-05T16:30", "metric", "today 16:30")]
    [InlineData("2026-03-06T09:05", "metric", "tomorrow 09:05")]
    [InlineData("2026-03-04T09:05", "metric", "yesterday 09:05")]
    [InlineData("2026-04-14T00:00", "metric", "Tue 14 Apr 00:00")]
    [InlineData("2027-01-02T12:00", "us", "2 Jan 2027 12:00 PM")]
    public void A_time_is_said_as_the_shop_says_it(string utc, string units, string expected)
    {
        var time = new FakeTimeProvider(new DateTimeOffset(2026, 3, 5, 9, 0, 0, TimeSpan.Zero));
        var clock = new ShopClock(time, new ShopSettings { UnitSystem = units });
        Assert.Equal(expected, clock.Say(DateTime.Parse(utc, System.Globalization.CultureInfo.InvariantCulture)));
    }

    [Fact]
    public void Today_is_the_shops_day_not_the_servers_of_Greenwich()
    {
        var time = new FakeTimeProvider(new DateTimeOffset(2026, 3, 5, 4, 0, 0, TimeSpan.Zero));
        time.SetLocalTimeZone(TimeZoneInfo.CreateCustomTimeZone("six behind", TimeSpan.FromHours(-6), null, null));
        var clock = new ShopClock(time, new ShopSettings { UnitSystem = "metric" });
        Assert.Equal("today 23:30", clock.Say(new DateTime(2026, 3, 5, 5, 30, 0, DateTimeKind.Utc)));
        Assert.Equal("tomorrow 00:30", clock.Say(new DateTime(2026, 3, 5, 6, 30, 0, DateTimeKind.Utc)));
    }
}
