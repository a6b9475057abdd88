using ShopDiag.Diagnosis.Engines;
using ShopDiag.Diagnosis.Learning;

namespace ShopDiag.Diagnosis.Tests.Learning;

/// <summary>Learning from cases: values worked out by hand, and what a shop would expect.</summary>
public sealed class PriorLearningTests
{
    private static readonly Knowledge Three = Shops.Causes(Shops.Cause("coil", 5), Shops.Cause("plug", 3), Shops.Cause("valve", 2));

    private static readonly Knowledge Either = Shops.Causes(Shops.Cause("yes", 1), Shops.Cause("no", 1));

    [Fact]
    public void The_posterior_mean_is_that_of_the_dirichlet_multinomial()
    {
        // (30 * 0.5 + 6) / 40, (30 * 0.3 + 0) / 40, (30 * 0.2 + 4) / 40.
        var priors = PriorLearning.Overall([Shops.Four.Cases("coil", 6), Shops.Six.Cases("valve", 4)], Three);

        Assert.Equal([0.525, 0.225, 0.25], priors.Causes.Select(c => c.Learned), Close);
        Assert.Equal([0.5, 0.3, 0.2], priors.Causes.Select(c => c.Shipped), Close);
        Assert.Equal([6, 0, 4], priors.Causes.Select(c => c.Cases));
        Assert.Equal((10, 10, false), (priors.Cases, priors.AllCases, priors.ByFamily));
    }

    [Theory]
    [InlineData(0, 0, 0.5)]
    [InlineData(1, 0, 2.0 / 3)]
    [InlineData(5, 2, 6.0 / 9)]
    [InlineData(0, 18, 1.0 / 20)]
    public void A_flat_prior_over_two_is_laplaces_rule_of_succession(int yes, int no, double expected)
    {
        // Laplace 1814, Essai philosophique sur les probabilites: after s of n, (s + 1) / (n + 2).
        var priors = PriorLearning.Overall([Shops.Four.Cases("yes", yes), Shops.Four.Cases("no", no)], Either, strength: 2);

        Assert.Equal(expected, priors.Share("yes"), 1e-12);
    }

    [Fact]
    public void The_sun_has_risen_so_often_that_it_will_again()
    {
        // Laplace's own example: 5000 years are 1,826,213 days, and he bets 1,826,214 to 1.
        var share = PriorLearning.Overall([Shops.Four.Cases("yes", 1_826_213)], Either, strength: 2).Share("yes");

        Assert.Equal(1_826_214, share / (1 - share), 0.5);
    }

    [Theory]
    [InlineData(0)]
    [InlineData(-1)]
    [InlineData(double.NaN)]
    [InlineData(double.PositiveInfinity)]
    public void Shipped_priors_that_are_worth_no_cases_are_refused(double strength)
    {
        Assert.Throws<ArgumentOutOfRangeException>(() => PriorLearning.Overall([], Three, strength));
        Assert.Throws<ArgumentOutOfRangeException>(() => PriorLearning.For(Shops.Four, [], Three, strength));
    }

    [Fact]
    public void Without_cases_all_stays_as_shipped()
    {
        foreach (var priors in new[] { PriorLearning.Overall([], Knowledge.Shipped), PriorLearning.For(Shops.Six, [], Knowledge.Shipped) })
        {
            Assert.All(priors.Causes, c => Assert.Equal(c.Shipped, c.Learned, 1e-15));
            Assert.All(Knowledge.Shipped.Causes, c => Assert.Equal(c.Weight, priors.Weights[c.Id], 12));
        }
    }

    [Fact]
    public void A_family_with_few_cases_goes_by_all_engines()
    {
        CaseCount[] cases = [Shops.Four.Cases("coil", 40), Shops.Six.Cases("valve", PriorLearning.EnoughOfFamily - 1)];
        var six = PriorLearning.For(Shops.Six, cases, Three);

        Assert.False(six.ByFamily);
        Assert.Equal((19, 59), (six.Cases, six.AllCases));
        Assert.Equal(PriorLearning.Overall(cases, Three).Causes.Select(c => c.Learned), six.Causes.Select(c => c.Learned));
    }

    [Fact]
    public void A_family_with_cases_enough_shrinks_to_what_the_other_engines_say()
    {
        // The others: (15 + 60) / 90 coil, 9 / 90 plug, 6 / 90 valve. With that as prior: (25 + 0) / 60, 3 / 60, (2 + 30) / 60.
        var six = PriorLearning.For(Shops.Six, [Shops.Four.Cases("coil", 60), Shops.Six.Cases("valve", 30)], Three);

        Assert.True(six.ByFamily);
        Assert.Equal([25.0 / 60, 3.0 / 60, 32.0 / 60], six.Causes.Select(c => c.Learned), Close);
        Assert.Equal([0, 0, 30], six.Causes.Select(c => c.Cases));
    }

    [Fact]
    public void A_shop_with_one_family_only_sees_the_same_by_family_and_over_all()
    {
        CaseCount[] cases = [Shops.Six.Cases("coil", 11), Shops.Six.Cases("plug", 33)];
        var (family, all) = (PriorLearning.For(Shops.Six, cases, Three), PriorLearning.Overall(cases, Three));

        Assert.True(family.ByFamily);
        Assert.Equal(all.Causes.Select(c => c.Learned), family.Causes.Select(c => c.Learned), Close);
    }

    [Fact]
    public void A_case_says_nothing_of_causes_that_its_engine_cannot_have()
    {
        var caps = Shops.Cause("cap", 2) with { OnlyIgnition = [Ignition.Distributor] };
        var knowledge = Shops.Causes(caps, Shops.Cause("coil", 5), Shops.Cause("plug", 3));
        var old = PriorLearning.For(Shops.OldEight, [Shops.Four.Cases("coil", 500)], knowledge);

        Assert.Equal(0.2, old.Share("cap"), 1e-12);
        // (30 * 0.8 + ...) within what is left: coil and plug share it as 5 / 8 * 24 + 500 to 3 / 8 * 24.
        Assert.Equal(((15 + 500.0) / (9 + 15 + 500)) * 0.8, old.Share("coil"), 1e-12);
        Assert.DoesNotContain(PriorLearning.For(Shops.Four, [], knowledge).Causes, c => c.Cause == "cap");
    }

    [Fact]
    public void What_nothing_can_prove_keeps_its_share()
    {
        var knowledge = Shops.Causes(Shops.Cause("coil", 6), Shops.Unprovable("shy", 3), Shops.Unprovable("unlisted", 1) with { Unlisted = true });
        var priors = PriorLearning.Overall([Shops.Four.Cases("coil", 1000), Shops.Four.Cases("shy", 9), Shops.Four.Cases("unlisted", 9)], knowledge);

        Assert.Equal([0.6, 0.3, 0.1], priors.Causes.Select(c => c.Learned), Close);
        Assert.Equal(1000, priors.Cases);
    }

    [Fact]
    public void Cases_of_a_cause_that_is_not_known_or_cannot_be_there_are_passed_over()
    {
        var priors = PriorLearning.Overall([Shops.Four.Cases("distributor-cap-rotor", 50), Shops.Four.Cases("no-such-cause", 50)], Knowledge.Shipped);

        CaseCount[] mixed = [Shops.Six.Cases("coil-failed", 2), Shops.Four.Cases("distributor-cap-rotor", 50), Shops.Six.Cases("coil-failed", 1), Shops.Four.Cases("plug-worn", 0)];
        Assert.Equal([Shops.Six.Cases("coil-failed", 3)], PriorLearning.Counted(mixed, Knowledge.Shipped));
        Assert.Equal(0, priors.Cases);
        Assert.All(priors.Causes, c => Assert.Equal(c.Shipped, c.Learned, 1e-15));
    }

    [Fact]
    public void Fewer_than_no_cases_are_refused() =>
        Assert.Throws<ArgumentOutOfRangeException>(() => PriorLearning.Overall([Shops.Four.Cases("coil", -1)], Three));

    [Fact]
    public void Engines_of_one_layout_ignition_and_injection_are_one_family()
    {
        var spec = Knowledge.Shipped.Profiles.First(p => p.Spec.Layout == "V6").Spec;

        Assert.Equal(EngineFamily.Of(spec), EngineFamily.Of(spec with { Layout = "v6 ", FiringOrder = [6, 5, 4, 3, 2, 1] }));
        Assert.NotEqual(EngineFamily.Of(spec), EngineFamily.Of(spec with { Injection = Injection.ThrottleBody }));
        Assert.Equal("coil-on-plug/port/V6", Shops.Six.Id);
        Assert.All(Knowledge.Shipped.Profiles, p => Assert.Equal(EngineFamily.Of(p.Spec), EngineFamily.Read(EngineFamily.Of(p.Spec).Id)));
        Assert.Equal(Shops.Six with { Layout = "" }, EngineFamily.Read((Shops.Six with { Layout = "" }).Id));
        Assert.All(new[] { "", "V6", "coil-on-plug/port", "steam/port/V6", "0/0/V6" }, text => Assert.Null(EngineFamily.Read(text)));
    }

    private static bool Close(double expected, double actual) => Math.Abs(expected - actual) < 1e-12;
}
