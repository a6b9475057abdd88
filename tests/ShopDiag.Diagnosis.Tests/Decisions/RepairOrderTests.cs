using CsCheck;
using ShopDiag.Diagnosis.Decisions;

namespace ShopDiag.Diagnosis.Tests.Decisions;

public sealed class RepairOrderTests
{
    // D30a and D30b: constructed, answers by brute force over all orders (facts 10.2); rule by Kadane and Simon 1977, Ottosen and Jensen 2010.
    private static readonly RepairAction[] D30a = [new("A", .5, 100), new("B", .3, 20), new("C", .2, 10)];

    private static readonly RepairAction[] D30b =
        [new("plug", .35, 20), new("coil", .30, 10), new("injector", .15, 25), new("vacuum", .10, 15), new("mechanical", .10, 60)];

    [Theory]
    [InlineData("CBA", 76)]
    [InlineData("BCA", 77)]
    [InlineData("BAC", 92)]
    [InlineData("CAB", 96)]
    [InlineData("ACB", 111)]
    [InlineData("ABC", 112)]
    public void Every_order_of_D30a_costs_what_it_should(string order, double expected) =>
        Assert.Equal(expected, RepairOrder.ExpectedCost(order.Select(id => D30a.Single(a => a.Id == $"{id}"))), 1e-9);

    [Fact]
    public void D30a_begins_with_the_least_likely()
    {
        Assert.Equal(["C", "B", "A"], RepairOrder.ByRatio(D30a).Select(a => a.Id));
        Assert.Equal(76, RepairOrder.LeastExpectedCost(D30a), 1e-9);
    }

    [Fact]
    public void D30b_puts_coil_before_plug_and_mechanical_last()
    {
        var orders = Actions.Orders(D30b).Select(o => RepairOrder.ExpectedCost(o)).ToArray();

        Assert.Equal(["coil", "plug", "vacuum", "injector", "mechanical"], RepairOrder.ByRatio(D30b).Select(a => a.Id));
        Assert.Equal(41.50, RepairOrder.LeastExpectedCost(D30b), 1e-9);
        Assert.Equal(44.25, RepairOrder.ExpectedCost(D30b.OrderByDescending(a => a.Probability).ThenBy(a => a.Cost)), 1e-9);
        Assert.Equal(44.75, RepairOrder.ExpectedCost(D30b.OrderBy(a => a.Cost)), 1e-9);
        Assert.Equal(120, orders.Length);
        Assert.Equal(41.50, orders.Min(), 1e-9);
        Assert.Equal(109.75, orders.Max(), 1e-9);
    }

    [Fact]
    public void D29_checks_the_less_likely_first_when_that_is_cheap()
    {
        // S. Ross, A First Course in Probability, exercise: p = .3, C1 = 10, C2 = 40 gives 10 * .7 = 7 <= 12.
        Assert.True(RepairOrder.FirstOfTwo(.3, 10, 40));
        Assert.Equal("one", RepairOrder.ByRatio([new("two", .7, 40), new("one", .3, 10)])[0].Id);
    }

    [Fact]
    public void D29_for_any_numbers_is_the_cheaper_order_and_the_repair_costs_cancel() =>
        Gen.Select(Gen.Double[0, 1], Gen.Double[0.5, 100], Gen.Double[0.5, 100], Gen.Double[0, 500], Gen.Double[0, 500]).Sample((p, c1, c2, r1, r2) =>
        {
            var (one, two) = (new RepairAction("one", p, c1, r1), new RepairAction("two", 1 - p, c2, r2));
            var saves = RepairOrder.ExpectedCost([two, one]) - RepairOrder.ExpectedCost([one, two]);

            Assert.Equal((c2 * p) - (c1 * (1 - p)), saves, 1e-9);
            if (Math.Abs(saves) > 1e-9)
            {
                Assert.Equal(saves > 0, RepairOrder.FirstOfTwo(p, c1, c2));
                Assert.Equal(saves > 0, p / c1 >= (1 - p) / c2);
            }
        });

    [Fact]
    public void The_ratio_order_is_the_best_of_all_orders() => Actions.Any(7).Sample(
        actions => Assert.Equal(Actions.Orders(actions).Min(o => RepairOrder.ExpectedCost(o, 200)), RepairOrder.LeastExpectedCost(actions, 200), 9), iter: 60);

    [Fact]
    public void Looking_and_repairing_cost_as_Heckerman_and_others_wrote_it() =>
        // (1 - 0) 10 + .6 * 50 + (1 - .6) 30 + .3 * 20, and .1 * 400 where neither helps; CACM 38(3) 1995.
        Assert.Equal(10 + 30 + 12 + 6 + 40, RepairOrder.ExpectedCost([new("coil", .6, 10, 50), new("injector", .3, 30, 20)], costIfNoneHelps: 400), 1e-9);

    [Fact]
    public void What_is_taken_off_is_counted_where_it_is_first_needed_and_once()
    {
        var intake = new StripDown("intake", 40);
        RepairAction Behind(string id, double p) => new(id, p, 5) { Behind = [intake] };

        // 10 + (1 - .5)(5 + 40) + (1 - .8) 5.
        Assert.Equal(33.5, RepairOrder.ExpectedCost([new("coil", .5, 10), Behind("plug 1", .3), Behind("plug 3", .2)]), 1e-9);
    }

    [Theory]
    [InlineData(double.NaN, 1)]
    [InlineData(-0.1, 1)]
    [InlineData(1.1, 1)]
    [InlineData(0.5, double.NaN)]
    [InlineData(0.5, -1)]
    [InlineData(0.5, double.PositiveInfinity)]
    public void Numbers_that_are_none_are_refused(double probability, double cost) =>
        Assert.Throws<ArgumentOutOfRangeException>(() => new RepairAction("a", probability, cost));

    [Fact]
    public void Probabilities_that_add_up_to_more_than_one_are_refused() =>
        Assert.Throws<ArgumentException>(() => RepairOrder.ExpectedCost([new("a", .6, 1), new("b", .6, 1)]));
}
