using CsCheck;
using ShopDiag.Diagnosis.Engines;
using ShopDiag.Diagnosis.Learning;

namespace ShopDiag.Diagnosis.Tests.Learning;

/// <summary>What must hold for any mix of cases on the shipped knowledge.</summary>
public sealed class PriorLearningLaws
{
    private static readonly EngineFamily[] Families =
    [
        Shops.Four, Shops.Six, Shops.OldEight, new("I4", Ignition.WasteSpark, Injection.Port), new("V8", Ignition.CoilNearPlug, Injection.Direct), new("I4", Ignition.Distributor, Injection.ThrottleBody),
    ];

    private static readonly Gen<EngineFamily> Family = Gen.Int[0, Families.Length - 1].Select(i => Families[i]);

    private static readonly Gen<CaseCount> Case = Gen.Select(
        Gen.Int[0, Knowledge.Shipped.Causes.Length - 1].Select(i => Knowledge.Shipped.Causes[i].Id), Family, Gen.Frequency((3, Gen.Int[0, 5]), (1, Gen.Int[0, 400])), (cause, family, n) => new CaseCount(cause, family, n));

    private static readonly Gen<CaseCount[]> Cases = Case.Array[0, 25];

    [Fact]
    public void The_shares_add_up_to_one_and_none_is_nothing() => Gen.Select(Cases, Family).Sample((cases, family) =>
    {
        foreach (var priors in new[] { PriorLearning.Overall(cases, Knowledge.Shipped), PriorLearning.For(family, cases, Knowledge.Shipped) })
        {
            Assert.Equal(1, priors.Causes.Sum(c => c.Learned), 1e-12);
            Assert.Equal(1, priors.Causes.Sum(c => c.Shipped), 1e-12);
            Assert.All(priors.Weights.Values, w => Assert.True(w > 0));
            Assert.Equal(Knowledge.Shipped.Causes.Sum(c => c.Weight), priors.Weights.Values.Sum(), 1e-9);
        }
    }, iter: 300);

    [Fact]
    public void One_more_case_of_a_cause_never_lowers_its_share_on_that_engine() => Gen.Select(Cases, Case, Family).Sample((cases, other, family) =>
    {
        var more = other with { Family = family };
        var (before, after) = (PriorLearning.For(family, cases, Knowledge.Shipped), PriorLearning.For(family, [.. cases, more with { Cases = 1 }], Knowledge.Shipped));
        // Where the case carries its family over the number from which it speaks for itself, the other engines step back.
        if (before.ByFamily == after.ByFamily && before.Causes.FirstOrDefault(c => c.Cause == more.Cause) is { } cause)
        {
            Assert.True(after.Share(more.Cause) >= cause.Learned - 1e-12, $"{more}: {cause.Learned} to {after.Share(more.Cause)}");
        }
    }, iter: 1000);

    [Fact]
    public void The_order_of_the_cases_and_how_they_are_bundled_change_nothing() => Gen.Select(Cases, Family).Sample((cases, family) =>
    {
        var one = PriorLearning.For(family, cases, Knowledge.Shipped);
        var other = PriorLearning.For(family, cases.Reverse().SelectMany(c => new[] { c with { Cases = c.Cases / 2 }, c with { Cases = c.Cases - (c.Cases / 2) } }), Knowledge.Shipped);
        Assert.Equal(one.Causes, other.Causes);
        Assert.Equal((one.ByFamily, one.Cases, one.AllCases), (other.ByFamily, other.Cases, other.AllCases));
    }, iter: 300);

    [Fact]
    public void Other_causes_keep_their_proportion_when_one_is_proven_on_an_engine_that_can_have_them_all() => Gen.Int[1, 500].Sample(n =>
    {
        var knowledge = Shops.Causes(Shops.Cause("a", 5), Shops.Cause("b", 3), Shops.Cause("c", 2));
        var priors = PriorLearning.Overall([Shops.Four.Cases("a", n)], knowledge);
        Assert.Equal(1.5, priors.Share("b") / priors.Share("c"), 1e-9);
    }, iter: 50);

    [Fact]
    public void Many_cases_leave_little_of_the_shipped_shares()
    {
        var priors = PriorLearning.For(Shops.Four, [Shops.Four.Cases("plug-worn", 7000), Shops.Four.Cases("coil-failed", 3000)], Knowledge.Shipped);
        // What no reading can prove on such an engine keeps its share; the rest goes as the cases do.
        Assert.Equal(7.0 / 3, priors.Share("plug-worn") / priors.Share("coil-failed"), 2);
        Assert.InRange(priors.Share("valve-lift-lost"), 1e-6, 1e-4);
    }
}
