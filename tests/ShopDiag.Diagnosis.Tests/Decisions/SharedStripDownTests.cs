using CsCheck;
using ShopDiag.Diagnosis.Decisions;

namespace ShopDiag.Diagnosis.Tests.Decisions;

public sealed class SharedStripDownTests
{
    private static Gen<RepairAction[]> WithStripDowns =>
        from actions in Actions.Any(6)
        from costs in Gen.Double[0, 60].Array[3]
        let stripDowns = costs.Select((c, i) => new StripDown($"s{i}", c)).ToArray()
        from which in Gen.Int[0, 7].Array[actions.Length]
        select actions.Select((a, i) => new RepairAction(a.Id, a.Probability, a.Cost, a.RepairCost)
        {
            Behind = [.. stripDowns.Where((_, s) => (which[i] & (1 << s)) != 0)],
        }).ToArray();

    [Fact]
    public void The_best_order_is_the_best_of_all_orders() => WithStripDowns.Sample(
        actions => Assert.Equal(Actions.Orders(actions).Min(o => RepairOrder.ExpectedCost(o)), RepairOrder.ExpectedCost(SharedStripDown.BestOrder(actions)), 9), iter: 60);

    [Fact]
    public void Without_strip_downs_it_costs_what_the_ratio_order_costs() => Actions.Any(8).Sample(
        actions => Assert.Equal(RepairOrder.LeastExpectedCost(actions), RepairOrder.ExpectedCost(SharedStripDown.BestOrder(actions)), 9), iter: 60);

    [Fact]
    public void Plugs_behind_one_intake_are_done_together_though_each_alone_has_the_lower_ratio()
    {
        var intake = new StripDown("intake", 30);
        RepairAction Plug(int cylinder) => new($"plug {cylinder}", .2, 5) { Behind = [intake] };
        RepairAction[] actions = [Plug(1), Plug(3), Plug(5), new("coil", .2, 22), new("injector", .2, 23)];

        // .2/22 and .2/23 beat .2/35, but three plugs share the 30: (.6 of the belief for 45).
        Assert.Equal(["coil", "injector", "plug 1", "plug 3", "plug 5"], RepairOrder.ByRatio(actions).Select(a => a.Id));
        Assert.Equal(["plug 1", "plug 3", "plug 5", "coil", "injector"], SharedStripDown.BestOrder(actions).Select(a => a.Id));
        Assert.Equal(35 + (.8 * 5) + (.6 * 5) + (.4 * 22) + (.2 * 23), RepairOrder.ExpectedCost(SharedStripDown.BestOrder(actions)), 1e-9);
    }

    [Fact]
    public void More_actions_than_can_be_worked_out_are_refused() => Assert.Throws<ArgumentException>(
        () => SharedStripDown.BestOrder(Enumerable.Range(0, SharedStripDown.MostActions + 1).Select(i => new RepairAction($"a{i}", .05, 1))));
}
