using CsCheck;
using ShopDiag.Diagnosis.Decisions;

namespace ShopDiag.Diagnosis.Tests.Decisions;

public sealed class RepairAndSeeTests
{
    private static readonly SuspectedCause Hose = new() { Id = "vacuum hose", Probability = .7, LabourMinutes = 4, PartsMinutes = 3, CheckMinutes = 3, ProofMinutes = 15 };
    private static readonly SuspectedCause Valve = new() { Id = "exhaust valve", Probability = .3, LabourMinutes = 400, PartsMinutes = 300, CheckMinutes = 15, ProofMinutes = 40 };

    private static Gen<SuspectedCause[]> AnyCauses =>
        from n in Gen.Int[1, 5]
        from shares in Gen.Double[0.01, 1].Array[n]
        from minutes in Gen.Double[0, 60].Array[4].Array[n]
        from safety in Gen.Bool.Array[n]
        select shares.Select((s, i) => new SuspectedCause
        {
            Id = $"c{i}",
            Probability = s / (shares.Sum() + 0.01),
            LabourMinutes = minutes[i][0],
            PartsMinutes = minutes[i][1] / 3,
            CheckMinutes = minutes[i][2] / 4,
            ProofMinutes = minutes[i][3],
            SafetyRelevant = safety[i],
        }).ToArray();

    [Fact]
    public void A_likely_hose_is_renewed_and_one_sees()
    {
        var answer = RepairAndSee.Weigh([Valve, Hose]);

        // Proof first: .7 (15 + 10) + .3 (40 + 715). Hose first: 10, and .3 (40 + 715) where it was not the hose.
        Assert.Equal(["vacuum hose", "exhaust valve"], answer.Order.Select(c => c.Id));
        Assert.Equal(244, answer.ProofFirstMinutes, 1e-9);
        Assert.Equal(236.5, answer.RepairFirstMinutes!.Value, 1e-9);
        Assert.True(answer.IsAdvised);
        Assert.Equal(.7 * 15, answer.ProofMinutesSaved, 1e-9);
        Assert.Equal(.3 * 10, answer.MinutesInVain, 1e-9);
    }

    [Fact]
    public void A_proof_that_takes_no_longer_than_the_chance_is_worth_comes_first() =>
        Assert.False(RepairAndSee.Weigh([Hose with { ProofMinutes = 4 }, Valve]).IsAdvised);

    [Theory]
    [InlineData(.49, 3, false, RepairBar.Unlikely)]
    [InlineData(.7, 30, false, RepairBar.DearParts)]
    [InlineData(.7, 3, true, RepairBar.SafetyRelevant)]
    [InlineData(.5, 10, false, RepairBar.None)]
    public void No_part_is_guessed_that_is_dear_unlikely_or_can_hurt(double probability, double parts, bool safety, RepairBar expected)
    {
        // A proof of three hours would make repairing cheaper in each case.
        var cause = Hose with { Probability = probability, PartsMinutes = parts, SafetyRelevant = safety, ProofMinutes = 180 };

        var answer = RepairAndSee.Weigh([cause]);

        Assert.Equal(expected, cause.Bar);
        Assert.Equal(expected == RepairBar.None, answer.IsAdvised);
        Assert.Equal(expected == RepairBar.None, answer.RepairFirstMinutes is not null);
    }

    [Fact]
    public void The_figures_explain_the_difference_and_the_rule_is_never_broken() => AnyCauses.Sample(causes =>
    {
        var answer = RepairAndSee.Weigh(causes);

        if (answer.First is { } first)
        {
            Assert.Equal(answer.ProofMinutesSaved - answer.MinutesInVain, answer.ProofFirstMinutes - answer.RepairFirstMinutes!.Value, 1e-6);
            Assert.True(first.Probability >= 0.5 && first.PartsMinutes <= 10 && !first.SafetyRelevant);
        }

        Assert.False(answer.First is null && answer.IsAdvised);
    });

    [Fact]
    public void Both_ways_cost_what_counting_out_the_causes_gives() => AnyCauses.Where(c => RepairAndSee.Weigh(c).First is not null).Sample(causes =>
    {
        var answer = RepairAndSee.Weigh(causes);
        var (proof, see) = (0.0, 0.0);
        foreach (var cause in causes)
        {
            proof += cause.Probability * (cause.ProofMinutes + cause.RepairMinutes);
            see += cause.Probability * (answer.First!.RepairMinutes + (cause == answer.First ? 0 : cause.ProofMinutes + cause.RepairMinutes));
        }

        // Where it is none of the listed, the first repair is in vain as well.
        see += (1 - causes.Sum(c => c.Probability)) * answer.First!.RepairMinutes;
        Assert.Equal(proof, answer.ProofFirstMinutes, 1e-6);
        Assert.Equal(see, answer.RepairFirstMinutes!.Value, 1e-6);
    });
}
