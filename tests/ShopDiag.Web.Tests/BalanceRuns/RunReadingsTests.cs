using System.Collections.Immutable;
using ShopDiag.Diagnosis;
using ShopDiag.Diagnosis.BenchTests;
using ShopDiag.Signals.Speed;
using ShopDiag.Storage.Orders;
using ShopDiag.Storage.Recordings;
using ShopDiag.Web.BalanceRuns;
using ShopDiag.Web.Tests.Support;

namespace ShopDiag.Web.Tests.BalanceRuns;

public sealed class RunReadingsTests
{
    private const string Source = "a recording";
    private static readonly ImmutableArray<CylinderTrials> Trials = [.. Enumerable.Range(1, 4).Select(c => new CylinderTrials(c, [750], [c == 3 ? 748 : 690]))];

    [Fact]
    public async Task Confirming_twice_puts_every_reading_on_the_order_once()
    {
        await using var shop = await TestShop.OpenAsync();
        var order = await FourAsync(shop);
        var first = RunReadings.Commands(order, Source, Trials, Stage.Before, "", replace: true);
        order = await PutAsync(shop, order, [.. first, .. first]);

        Assert.Equal(4, order.Readings.Length);
        Assert.Empty(RunReadings.Commands(order, Source, Trials, Stage.Before, "", replace: true));
        Assert.Equal("dead", RunReadings.Verdicts(order.ToWorkup(new())!, Knowledge.Shipped, [], Stage.Before, false)[3].Outcome);
    }

    [Fact]
    public async Task Earlier_readings_are_replaced_or_joined_as_the_technician_says()
    {
        await using var shop = await TestShop.OpenAsync();
        var order = await FourAsync(shop);
        order = await PutAsync(shop, order, RunReadings.Commands(order, "one", Trials, Stage.Before, "", false));
        order = await PutAsync(shop, order, RunReadings.Commands(order, "two", Trials, Stage.Before, "", false));
        Assert.Equal(8, order.Readings.Count(Counts));

        order = await PutAsync(shop, order, RunReadings.Commands(order, "three", Trials, Stage.Before, "", true));

        Assert.Equal(4, order.Readings.Count(Counts));
        Assert.Empty(RunReadings.TakeBack(order, "one", Trials, Stage.Before));
        Assert.Equal(4, RunReadings.TakeBack(order, "three", Trials, Stage.Before).Length);
    }

    [Fact]
    public async Task What_was_taken_back_can_be_confirmed_again()
    {
        await using var shop = await TestShop.OpenAsync();
        var order = await FourAsync(shop);
        order = await PutAsync(shop, order, RunReadings.Commands(order, Source, Trials, Stage.Before, "", true));
        order = await PutAsync(shop, order, RunReadings.TakeBack(order, Source, Trials, Stage.Before));
        Assert.DoesNotContain(order.Readings, Counts);

        order = await PutAsync(shop, order, RunReadings.Commands(order, Source, Trials, Stage.Before, "", true));

        Assert.Equal(4, order.Readings.Count(Counts));
    }

    [Fact]
    public async Task Readings_after_the_repair_leave_those_before_it_alone()
    {
        await using var shop = await TestShop.OpenAsync();
        var order = await FourAsync(shop);
        order = await PutAsync(shop, order, RunReadings.Commands(order, Source, Trials, Stage.Before, "", true));
        order = await PutAsync(shop, order, RunReadings.Commands(order, Source, Trials, Stage.After, "", true));
        Assert.Equal([4, 4], order.Readings.Where(Counts).GroupBy(r => r.Reading.Stage).Select(g => g.Count()));
    }

    [Fact]
    public void Taken_back_turns_and_what_nobody_announced_never_become_readings()
    {
        var plan = new RecordingPlan { Times = [new(1, 8, 12, true), new(1, 20, 24), new(2, 32, 36)] };
        var analysis = RunAnalysis.Of(4, plan, Trace(56, (8.5, 12), (20.5, 24), (32.5, 36), (44, 47.5)));

        Assert.Equal([DropFate.LeftOut, DropFate.Counts, DropFate.Counts, DropFate.Open], analysis.Drops.Select(d => d.Fate));
        Assert.Equal([1, 2], RunReadings.Of(analysis).Select(t => t.Cylinder));
        Assert.All(RunReadings.Of(analysis), t => Assert.Single(t.Bases));
        Assert.False(analysis.Usable);
        Assert.Contains(analysis.Reasons, r => r.Contains("At 44 s", StringComparison.Ordinal));
    }

    [Fact]
    public void A_hand_far_too_early_makes_no_dead_cylinder()
    {
        // Off from 29.5 s, announced at 32 s: it had fallen before its base could be taken.
        var analysis = RunAnalysis.Of(4, new() { Times = [new(1, 8, 12), new(2, 20, 24), new(3, 32, 36)] }, Trace(46, (8.5, 12), (20.5, 24), (29.5, 34)));

        Assert.Equal([1, 2], RunReadings.Of(analysis).Select(t => t.Cylinder));
        Assert.Contains(analysis.Drops, d => d is { Cylinder: 3, Fate: DropFate.Open });
        Assert.False(analysis.Usable);
    }

    [Fact]
    public void A_drop_given_by_hand_counts_and_one_that_is_no_cylinders_no_longer_speaks_against_the_run()
    {
        var trace = Trace(44, (8, 11.5), (20, 23.5), (32, 35.5));
        var open = RunAnalysis.Of(4, new() { Order = [1, 3, 4, 2] }, trace);
        Assert.Empty(RunReadings.Of(open));

        var given = RunAnalysis.Of(4, new() { Order = [1, 3, 4, 2], Given = [new(open.Drops[0].Key, 1), new(open.Drops[1].Key, 4), new(open.Drops[2].Key, 0)] }, trace);

        Assert.Equal([1, 4], RunReadings.Of(given).Select(t => t.Cylinder));
        Assert.Equal([true, true, true], given.Drops.Select(d => d.ByHand));
    }

    private static bool Counts(StoredReading reading) => !reading.Superseded && !reading.Withdrawn;

    private static async Task<RepairOrder> FourAsync(TestShop shop)
    {
        var order = await shop.NewOrderAsync();
        await shop.PutEngineAsync(order.Id, Knowledge.Shipped.Profiles.First(p => p.Spec.FiringOrder.Length == 4).Id);
        return (await shop.Orders.GetAsync(order.Id))!;
    }

    private static async Task<RepairOrder> PutAsync(TestShop shop, RepairOrder order, ImmutableArray<NewReading> readings)
    {
        foreach (var reading in readings)
        {
            Assert.NotEqual(SaveOutcome.Refused, (await shop.Orders.AddReadingAsync(order.Id, reading)).Outcome);
        }

        return (await shop.Orders.GetAsync(order.Id))!;
    }

    /// <summary>750 rpm, 690 in the stretches, with a time constant of 0.3 s and a little noise that repeats.</summary>
    private static SpeedTrace Trace(double seconds, params (double From, double To)[] off)
    {
        var (points, speed) = (new List<SpeedPoint>(), 750.0);
        for (var t = 0.0; t < seconds; t += 0.05)
        {
            speed += ((off.Any(o => t >= o.From && t < o.To) ? 690 : 750) - speed) * 0.05 / 0.3;
            points.Add(new(t, speed + (2 * Math.Sin(t * 2.7)) + Math.Sin(t * 11), 1));
        }

        return new() { Points = [.. points] };
    }
}
