using CsCheck;
using ShopDiag.Diagnosis.Decisions;

namespace ShopDiag.Diagnosis.Tests.Decisions;

public sealed class ObservationTests
{
    // D30c: constructed (facts 10.2); rule ECO < ECR by Heckerman, Breese and Rommelse, CACM 38(3) 1995.
    private static readonly RepairAction[] D30c = [new("coil", .6, 10), new("injector", .4, 30)];

    private static Gen<(RepairAction[] Actions, Observation Reading)> AnyCase(double cost) =>
        from actions in Actions.Any(5)
        from reading in Actions.Reading(actions.Length, cost)
        select (actions, reading);

    [Theory]
    [InlineData(0)]
    [InlineData(3.99)]
    [InlineData(4.01)]
    [InlineData(10)]
    public void D30c_a_perfect_test_of_coil_or_injector_is_worth_up_to_four_minutes(double minutes)
    {
        var value = Observations.Of(D30c, new Observation(minutes, [new([1, 0]), new([0, 1])]));

        Assert.Equal(22, value.WithoutIt, 1e-9);
        Assert.Equal(minutes + 18, value.WithItFirst, 1e-9);
        Assert.Equal(minutes < 4, value.IsWorthIt);
        Assert.Equal(4, Observations.OfPerfectInformation(D30c), 1e-9);
    }

    [Fact]
    public void D30d_low_relative_compression_points_at_the_mechanical_side()
    {
        // D30d: constructed (facts 10.2); ignition .5, fuel .2, air .1, mechanical .2.
        var update = Bayes.Update([.5, .2, .1, .2], [.05, .05, .05, .9]);

        Assert.Equal(.22, update.Seen, 1e-9);
        double[] expected = [.1136, .0455, .0227, .8182];
        Assert.All(expected.Zip(update.Posterior), p => Assert.Equal(p.First, p.Second, 4));
    }

    [Fact]
    public void A_free_reading_never_costs_and_never_saves_more_than_knowing_the_cause() => AnyCase(0).Sample(c =>
    {
        var value = Observations.Of(c.Actions, c.Reading, 200);
        var saves = value.WithoutIt - value.WithItFirst;

        Assert.InRange(saves, -1e-9, Observations.OfPerfectInformation(c.Actions, 200) + 1e-9);
    });

    [Fact]
    public void A_reading_saves_only_where_some_outcome_changes_the_order() => AnyCase(0).Sample(c =>
    {
        var value = Observations.Of(c.Actions, c.Reading);
        var before = RepairOrder.ByRatio(c.Actions).Select(a => a.Id).ToArray();
        var changes = c.Reading.Outcomes.Any(o => !OrderAfter(c.Actions, o).SequenceEqual(before));

        Assert.Equal(changes, value.WithoutIt - value.WithItFirst > 1e-9);
    });

    [Fact]
    public void A_reading_that_has_nothing_to_do_with_the_causes_costs_what_it_costs() =>
        Gen.Select(Actions.Any(6), Gen.Double[0, 1], Gen.Double[0, 30]).Sample((actions, p, cost) =>
        {
            ObservedOutcome Same(double chance) => new([.. actions.Select(_ => chance)], chance);
            var value = Observations.Of(actions, new Observation(cost, [Same(p), Same(1 - p)]));

            Assert.Equal(value.WithoutIt + cost, value.WithItFirst, 1e-9);
            Assert.False(cost > 1e-9 && value.IsWorthIt);
        });

    [Fact]
    public void Knowing_the_cause_is_never_worth_less_than_nothing_and_at_most_what_is_looked_at_in_vain() => Actions.Any(7).Sample(actions =>
    {
        var atMost = RepairOrder.LeastExpectedCost(actions) - actions.Sum(a => a.Probability * (a.Cost + a.RepairCost));
        Assert.InRange(Observations.OfPerfectInformation(actions), -1e-9, atMost + 1e-9);
    });

    [Fact]
    public void Beliefs_after_the_outcomes_average_to_the_belief_before() => AnyCase(0).Sample(c =>
    {
        var priors = c.Actions.Select(a => a.Probability).ToArray();
        var updates = c.Reading.Outcomes.Select(o => Bayes.Update(priors, o.Likelihoods, o.Otherwise)).ToArray();

        Assert.Equal(1, updates.Sum(u => u.Seen), 1e-9);
        Assert.All(priors.Select((p, i) => (p, i)), x => Assert.Equal(x.p, updates.Sum(u => u.Seen * u.Posterior[x.i]), 9));
    });

    [Fact]
    public void Likelihoods_that_do_not_go_with_the_actions_are_refused()
    {
        Assert.Throws<ArgumentException>(() => Observations.Of(D30c, new Observation(1, [new([1]), new([0])])));
        Assert.Throws<ArgumentException>(() => Observations.Of(D30c, new Observation(1, [new([.5, .5]), new([.4, .5])])));
        Assert.Throws<ArgumentException>(() => Bayes.Update([.5, .6], [.5, .5]));
    }

    private static IEnumerable<string> OrderAfter(RepairAction[] actions, ObservedOutcome outcome)
    {
        var posterior = Bayes.Update([.. actions.Select(a => a.Probability)], outcome.Likelihoods, outcome.Otherwise).Posterior;
        return RepairOrder.ByRatio(actions.Select((a, i) => new RepairAction(a.Id, posterior[i], a.Cost))).Select(a => a.Id);
    }
}
